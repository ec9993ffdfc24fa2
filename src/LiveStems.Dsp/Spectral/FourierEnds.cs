using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Spectral;

/// <summary>A real signal read as half as many complex numbers: even samples real, odd samples imaginary.</summary>
internal readonly ref struct SignalSource(ref float signal) : IComplexSource
{
    private readonly ref float signal = ref signal;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public ComplexLanes Load(nint block)
    {
        nuint at = (nuint)(block * ComplexLanes.Floats);
        Vector256<float> outer = Vector256.Create(Vector128.LoadUnsafe(ref signal, at), Vector128.LoadUnsafe(ref signal, at + 8));
        Vector256<float> inner = Vector256.Create(Vector128.LoadUnsafe(ref signal, at + 4), Vector128.LoadUnsafe(ref signal, at + 12));
        return new ComplexLanes(LaneShuffles.Evens(outer, inner), LaneShuffles.Odds(outer, inner));
    }
}

/// <summary>Real and imaginary parts in memory of their own.</summary>
internal readonly ref struct SpectrumTarget(ref float real, ref float imaginary) : IComplexTarget
{
    private readonly ref float real = ref real;
    private readonly ref float imaginary = ref imaginary;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Store(nint first, ComplexLanes value)
    {
        value.Re.StoreUnsafe(ref real, (nuint)first);
        value.Im.StoreUnsafe(ref imaginary, (nuint)first);
    }
}

/// <summary>
/// The complex numbers whose inverse transform is the signal of <see cref="SignalSource"/>, made from the half spectrum of
/// a real signal and read with real and imaginary parts exchanged, which turns a transform into its inverse.
/// </summary>
/// <remarks>
/// Z[k] = (X[k] + X*[M−k]) + i·e^(2πik/N)·(X[k] − X*[M−k]), times 1/N; H. V. Sorensen et al., "Real-valued fast Fourier
/// transform algorithms", IEEE Trans. ASSP 35 (1987), section II.
/// </remarks>
internal readonly ref struct HalfSpectrumSource(ref float real, ref float imaginary, ref float turns, int half) : IComplexSource
{
    private readonly ref float real = ref real;
    private readonly ref float imaginary = ref imaginary;
    private readonly ref float turns = ref turns;
    private readonly nint half = half;
    private readonly float scale = 0.5f / half;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public ComplexLanes Load(nint block)
    {
        nuint at = (nuint)(block * ComplexLanes.Count);
        nuint mirrored = (nuint)(half - ComplexLanes.Count + 1) - at;
        Vector256<float> re = Vector256.LoadUnsafe(ref real, at);
        Vector256<float> im = Vector256.LoadUnsafe(ref imaginary, at);
        Vector256<float> mirrorRe = LaneShuffles.Reverse(Vector256.LoadUnsafe(ref real, mirrored));
        Vector256<float> mirrorIm = LaneShuffles.Reverse(Vector256.LoadUnsafe(ref imaginary, mirrored));
        if (block == 0)
        {
            // A real signal has no imaginary part at 0 and at the Nyquist frequency.
            im = im.WithElement(0, 0);
            mirrorIm = mirrorIm.WithElement(0, 0);
        }

        ComplexLanes turned = new ComplexLanes(re - mirrorRe, im + mirrorIm).Times(
            Vector256.LoadUnsafe(ref turns, at * 2),
            Vector256.LoadUnsafe(ref turns, at * 2 + ComplexLanes.Count));
        Vector256<float> factor = Vector256.Create(scale);
        return new ComplexLanes(
            Vector256.FusedMultiplyAdd(im - mirrorIm, factor, turned.Re),
            Vector256.FusedMultiplyAdd(re + mirrorRe, factor, -turned.Im));
    }
}

/// <summary>The counterpart of <see cref="SignalSource"/>, with real and imaginary parts exchanged back.</summary>
internal readonly ref struct SignalTarget(ref float signal) : IComplexTarget
{
    private readonly ref float signal = ref signal;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Store(nint first, ComplexLanes value)
    {
        Vector256<float> low = LaneShuffles.InterleaveLow(value.Im, value.Re);
        Vector256<float> high = LaneShuffles.InterleaveHigh(value.Im, value.Re);
        nuint at = (nuint)(2 * first);
        Vector256.Create(low.GetLower(), high.GetLower()).StoreUnsafe(ref signal, at);
        Vector256.Create(low.GetUpper(), high.GetUpper()).StoreUnsafe(ref signal, at + 8);
    }
}
