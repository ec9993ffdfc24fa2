using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// Twice the rate by a half-band filter: every other frame is the input itself, the ones between come half-way.
/// </summary>
/// <remarks>M. Bellanger et al., "Interpolation, extrapolation, and reduction of computation speed in digital filters", IEEE Trans. ASSP 22 (1974).</remarks>
internal sealed class DoublingStage : PairStage
{
    private const int InputGroup = 512;

    private readonly double[] taps;

    public DoublingStage(double[] taps)
    {
        this.taps = taps;
    }

    public override int GroupFrames => 2 * InputGroup;

    public override int InputFrames => InputGroup + taps.Length;

    public override long FirstInput(long group) => group * InputGroup - (taps.Length / 2 - 1);

    public override void Compute(long group, ReadOnlySpan<double> input, Span<double> output)
    {
        ref double source = ref MemoryMarshal.GetReference(input[..(2 * InputFrames)]);
        ref double target = ref MemoryMarshal.GetReference(output[..(2 * GroupFrames)]);
        ref double tap = ref MemoryMarshal.GetArrayDataReference(taps);
        nuint centre = (nuint)(2 * (taps.Length / 2 - 1));
        for (nuint i = 0; i < InputGroup; i += PairFir.Frames)
        {
            ref double at = ref System.Runtime.CompilerServices.Unsafe.Add(ref source, 2 * i);
            (Vector512<double> first, Vector512<double> second) = PairFir.Eight(ref tap, taps.Length, ref at);
            Vector512<double> there = Vector512.LoadUnsafe(ref at, centre);
            Vector512<double> next = Vector512.LoadUnsafe(ref at, centre + 8);
            Store(there.GetLower(), first.GetLower(), ref target, 4 * i);
            Store(there.GetUpper(), first.GetUpper(), ref target, 4 * i + 8);
            Store(next.GetLower(), second.GetLower(), ref target, 4 * i + 16);
            Store(next.GetUpper(), second.GetUpper(), ref target, 4 * i + 24);
        }
    }

    private static void Store(Vector256<double> there, Vector256<double> between, ref double target, nuint at) =>
        Vector512.Create(
            Vector256.Create(there.GetLower(), between.GetLower()),
            Vector256.Create(there.GetUpper(), between.GetUpper())).StoreUnsafe(ref target, at);
}
