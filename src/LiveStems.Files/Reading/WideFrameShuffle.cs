using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace LiveStems.Files.Reading;

/// <summary>
/// <see cref="FrameShuffle"/> with vectors four times as long: sixteen stereo frames at a time, each channel's bytes picked
/// out of two overlapping loads by one instruction.
/// </summary>
internal sealed class WideFrameShuffle
{
    private const int Frames = 16;
    private const int LoadBytes = 64;

    private readonly int stepBytes;
    private readonly int secondLoad;
    private readonly byte[] left;
    private readonly byte[] right;
    private readonly int used;

    /// <summary>For stereo samples of 2 to 4 bytes.</summary>
    internal WideFrameShuffle(SampleLayout layout)
    {
        stepBytes = Frames * 2 * layout.Bytes;
        secondLoad = stepBytes - LoadBytes;
        left = Picks(layout, 0);
        right = Picks(layout, layout.Bytes);
        used = -1 << (8 * (sizeof(int) - layout.Bytes));
    }

    // Asked for once: what asks the machine is compiled at every start.
    private static readonly bool HasInstruction = Avx512Vbmi.IsSupported;

    /// <summary>True where the machine has the instruction, and for layouts that it serves.</summary>
    internal static bool Serves(SampleLayout layout, int channels) =>
        HasInstruction && channels == 2 && layout.Bytes is >= 2 and <= 4;

    /// <summary>
    /// Decodes whole vectors and returns how many frames that were; each sample is its whole number, left-justified in 32
    /// bits, with some bits flipped, times a scale.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    internal int Decode(ReadOnlySpan<byte> source, Span<float> toLeft, Span<float> toRight, int flips, float scale)
    {
        ref byte from = ref MemoryMarshal.GetReference(source);
        ref float l = ref MemoryMarshal.GetReference(toLeft);
        ref float r = ref MemoryMarshal.GetReference(toRight);
        Vector512<byte> leftPicks = Vector512.Create<byte>(left), rightPicks = Vector512.Create<byte>(right);
        Vector512<int> mask = Vector512.Create(used), flip = Vector512.Create(flips);
        Vector512<float> scales = Vector512.Create(scale);
        int frames = Math.Min(toLeft.Length, source.Length / (stepBytes / Frames)) & -Frames;
        nuint at = 0, second = (nuint)secondLoad, step = (nuint)stepBytes;
        for (int frame = 0; frame < frames; frame += Frames, at += step)
        {
            Vector512<byte> a = Vector512.LoadUnsafe(ref from, at);
            Vector512<byte> b = Vector512.LoadUnsafe(ref from, at + second);
            Vector512<int> leftBits = Avx512Vbmi.PermuteVar64x8x2(a, leftPicks, b).AsInt32() & mask;
            Vector512<int> rightBits = Avx512Vbmi.PermuteVar64x8x2(a, rightPicks, b).AsInt32() & mask;
            (Vector512.ConvertToSingle(leftBits ^ flip) * scales).StoreUnsafe(ref l, (nuint)frame);
            (Vector512.ConvertToSingle(rightBits ^ flip) * scales).StoreUnsafe(ref r, (nuint)frame);
        }

        return frames;
    }

    // Bytes that a sample does not have pick anything; they are masked away.
    private byte[] Picks(SampleLayout layout, int channelOffset)
    {
        byte[] picks = new byte[LoadBytes];
        for (int frame = 0; frame < Frames; frame++)
        {
            for (int rank = 0; rank < layout.Bytes; rank++)
            {
                int offset = (frame * 2 * layout.Bytes) + channelOffset + layout.ByteOfRank(rank);
                picks[(sizeof(int) * frame) + 3 - rank] = (byte)(offset < LoadBytes ? offset : LoadBytes + offset - secondLoad);
            }
        }

        return picks;
    }
}
