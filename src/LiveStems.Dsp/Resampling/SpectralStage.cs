using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// The filter of a change of rate and the change itself in one: overlapping blocks are transformed at the input rate, their
/// spectra weighted and cut (or filled up with zeros), and transformed back at the output rate.
/// </summary>
/// <remarks>
/// <para>
/// Overlap-save as in A. V. Oppenheim and R. W. Schafer, Discrete-Time Signal Processing, section 8.7.3, with the change of
/// rate of G. Bi and S. K. Mitra, "Sampling rate conversion in the frequency domain", IEEE Signal Processing Magazine 28
/// (2011). Four blocks of both channels run side by side in the lanes of one vector; none touches another.
/// </para>
/// <para>
/// Real signals go as complex ones of half the size: H. V. Sorensen et al., "Real-valued fast Fourier transform algorithms",
/// IEEE Trans. ASSP 35 (1987), section II.
/// </para>
/// </remarks>
internal sealed class SpectralStage : PairStage
{
    private const int Blocks = 4;

    private readonly SpectralPlan plan;
    private readonly AlignedMemory<double> work;
    private readonly AlignedMemory<double> spare;
    private readonly AlignedMemory<double> bins;

    public SpectralStage(SpectralPlan plan)
    {
        this.plan = plan;
        int reals = Math.Max(plan.InputSize, plan.OutputSize);
        work = new AlignedMemory<double>(reals * EightComplex.Signals);
        spare = new AlignedMemory<double>(reals * EightComplex.Signals);
        bins = new AlignedMemory<double>(plan.Bins * EightComplex.Doubles);
    }

    public override int GroupFrames => Blocks * plan.OutputStep;

    public override int InputFrames => (Blocks - 1) * plan.InputStep + plan.InputSize;

    public override long FirstInput(long group) => group * Blocks * plan.InputStep - plan.Lead;

    public override void Compute(long group, ReadOnlySpan<double> input, Span<double> output)
    {
        Gather(ref MemoryMarshal.GetReference(input[..(2 * InputFrames)]));
        AlignedMemory<double> spectrum = plan.Input.Transform(work, spare);
        Weigh(ref spectrum.Start);
        Fold(ref work.Start);
        AlignedMemory<double> sound = plan.Output.Transform(work, spare);
        Scatter(ref sound.Start, ref MemoryMarshal.GetReference(output[..(2 * GroupFrames)]));
    }

    /// <summary>Frame n of all blocks into one vector.</summary>
    private void Gather(ref double input)
    {
        ref double target = ref work.Start;
        nuint step = (nuint)(2 * plan.InputStep);
        for (nuint n = 0; n < (nuint)plan.InputSize; n++)
        {
            Vector256<double> lower = Vector256.Create(
                Vector128.LoadUnsafe(ref input, 2 * n), Vector128.LoadUnsafe(ref input, 2 * n + step));
            Vector256<double> upper = Vector256.Create(
                Vector128.LoadUnsafe(ref input, 2 * n + 2 * step), Vector128.LoadUnsafe(ref input, 2 * n + 3 * step));
            Vector512.Create(lower, upper).StoreUnsafe(ref target, n * EightComplex.Signals);
        }
    }

    /// <summary>From the half-size transform to the weighted spectrum of the real signals.</summary>
    private void Weigh(ref double spectrum)
    {
        ref double target = ref bins.Start;
        ref double filter = ref MemoryMarshal.GetArrayDataReference(plan.Filter);
        nint mirrored = 0;
        nint end = plan.InputSize / 2 * EightComplex.Doubles;
        for (nint k = 0; k < plan.Bins; k++)
        {
            EightComplex there = EightComplex.Load(ref spectrum, k * EightComplex.Doubles);
            EightComplex mirror = EightComplex.Load(ref spectrum, mirrored);
            EightComplex even = new(there.Re + mirror.Re, there.Im - mirror.Im);
            EightComplex odd = new(there.Re - mirror.Re, there.Im + mirror.Im);
            ref double factors = ref Unsafe.Add(ref filter, 4 * k);
            EightComplex weighted = even.Times(factors, Unsafe.Add(ref factors, 1))
                + odd.Times(Unsafe.Add(ref factors, 2), Unsafe.Add(ref factors, 3));
            weighted.Store(ref target, k * EightComplex.Doubles);
            mirrored = (mirrored == 0 ? end : mirrored) - EightComplex.Doubles;
        }
    }

    /// <summary>From the spectrum to the half-size transform of the way back, real and imaginary parts exchanged.</summary>
    private void Fold(ref double target)
    {
        nint half = plan.OutputSize / 2;
        nint bins = plan.Bins;
        nint above = Math.Max(1, half - bins + 1);
        ref double turns = ref MemoryMarshal.GetArrayDataReference(plan.Turns);
        ref double spectrum = ref this.bins.Start;
        nint k = 0;
        for (; k < Math.Min(bins, above); k++)
        {
            EightComplex there = EightComplex.Load(ref spectrum, k * EightComplex.Doubles);
            StoreExchanged(there.Times(1 + Unsafe.Add(ref turns, 2 * k), Unsafe.Add(ref turns, 2 * k + 1)), ref target, k);
        }

        for (; k < bins; k++)
        {
            EightComplex there = EightComplex.Load(ref spectrum, k * EightComplex.Doubles);
            EightComplex mirror = EightComplex.Load(ref spectrum, (half - k) * EightComplex.Doubles);
            EightComplex even = new(there.Re + mirror.Re, there.Im - mirror.Im);
            EightComplex odd = new(there.Re - mirror.Re, there.Im + mirror.Im);
            StoreExchanged(even + odd.Times(Unsafe.Add(ref turns, 2 * k), Unsafe.Add(ref turns, 2 * k + 1)), ref target, k);
        }

        for (; k < above; k++)
        {
            StoreExchanged(default, ref target, k);
        }

        for (; k < half; k++)
        {
            EightComplex mirror = EightComplex.Load(ref spectrum, (half - k) * EightComplex.Doubles);
            EightComplex turned = new EightComplex(mirror.Re, -mirror.Im)
                .Times(1 - Unsafe.Add(ref turns, 2 * k), -Unsafe.Add(ref turns, 2 * k + 1));
            StoreExchanged(turned, ref target, k);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void StoreExchanged(EightComplex value, ref double target, nint bin) =>
        new EightComplex(value.Im, value.Re).Store(ref target, bin * EightComplex.Doubles);

    /// <summary>The whole frames of all blocks one after the other.</summary>
    private void Scatter(ref double sound, ref double output)
    {
        nuint step = (nuint)(2 * plan.OutputStep);
        for (nuint n = 0; n < (nuint)plan.OutputStep; n++)
        {
            Vector512<double> frames = Vector512.LoadUnsafe(ref sound, (n ^ 1) * EightComplex.Signals);
            frames.GetLower().GetLower().StoreUnsafe(ref output, 2 * n);
            frames.GetLower().GetUpper().StoreUnsafe(ref output, 2 * n + step);
            frames.GetUpper().GetLower().StoreUnsafe(ref output, 2 * n + 2 * step);
            frames.GetUpper().GetUpper().StoreUnsafe(ref output, 2 * n + 3 * step);
        }
    }
}
