using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// Half the rate by a half-band filter: half of every other frame, and half of what the ones between say about the same moment.
/// </summary>
/// <inheritdoc cref="DoublingStage"/>
internal sealed class HalvingStage : PairStage
{
    private const int OutputGroup = 512;

    private readonly double[] taps;
    private readonly double[] between;

    public HalvingStage(double[] taps)
    {
        this.taps = taps;
        between = new double[2 * (OutputGroup + taps.Length)];
    }

    public override int GroupFrames => OutputGroup;

    public override int InputFrames => 2 * (OutputGroup + taps.Length);

    public override long FirstInput(long group) => 2 * (group * OutputGroup - taps.Length / 2);

    public override void Compute(long group, ReadOnlySpan<double> input, Span<double> output)
    {
        ref double source = ref MemoryMarshal.GetReference(input[..(2 * InputFrames)]);
        ref double target = ref MemoryMarshal.GetReference(output[..(2 * OutputGroup)]);
        ref double odd = ref MemoryMarshal.GetArrayDataReference(between);
        ref double tap = ref MemoryMarshal.GetArrayDataReference(taps);
        for (nuint i = 0; i < (nuint)(OutputGroup + taps.Length); i++)
        {
            Vector128.LoadUnsafe(ref source, 4 * i + 2).StoreUnsafe(ref odd, 2 * i);
        }

        // Frame 0 of the window is even and lies K frames of the lower rate before the group; odd frame i follows it by 2i + 1.
        nuint centre = (nuint)(2 * taps.Length);
        Vector512<double> half = Vector512.Create(0.5);
        for (nuint i = 0; i < OutputGroup; i += PairFir.Frames)
        {
            (Vector512<double> first, Vector512<double> second) =
                PairFir.Eight(ref tap, taps.Length, ref Unsafe.Add(ref odd, 2 * i));
            ((first + Evens(ref source, 4 * i + centre)) * half).StoreUnsafe(ref target, 2 * i);
            ((second + Evens(ref source, 4 * i + centre + 16)) * half).StoreUnsafe(ref target, 2 * i + 8);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Evens(ref double source, nuint at) => Vector512.Create(
        Vector256.Create(Vector128.LoadUnsafe(ref source, at), Vector128.LoadUnsafe(ref source, at + 4)),
        Vector256.Create(Vector128.LoadUnsafe(ref source, at + 8), Vector128.LoadUnsafe(ref source, at + 12)));
}
