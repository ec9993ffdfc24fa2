using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Files.Reading;

/// <summary>
/// Turns interleaved samples as they lie in a file into planar floats of full scale ±1. Whole numbers of up to 24 bits
/// come out exact; 32-bit ones and 64-bit floats are rounded to the nearest float, ties to even.
/// </summary>
/// <remarks>
/// Four frames at a time: two overlapping 16-byte loads cover them whatever the width of a sample; byte shuffles pick
/// one channel's bytes out of each load and lay them, left-justified, into four 32-bit lanes. One kernel so serves every
/// width and byte order, differing only in its shuffle tables.
/// </remarks>
internal sealed class SampleDecoder
{
    private const float LeftJustifiedScale = 1f / 2147483648f;
    private const int FiniteLimit = 0x7F800000;

    private readonly SampleLayout layout;
    private readonly int channels;
    private readonly int stepBytes;
    private readonly int secondLoad;
    private readonly Vector128<byte> leftFromFirst;
    private readonly Vector128<byte> leftFromSecond;
    private readonly Vector128<byte> rightFromFirst;
    private readonly Vector128<byte> rightFromSecond;
    private readonly int signFlip;

    internal SampleDecoder(SampleLayout layout, int channels)
    {
        this.layout = layout;
        this.channels = channels;
        FrameBytes = layout.Bytes * channels;
        stepBytes = 4 * FrameBytes;
        secondLoad = Math.Max(0, stepBytes - 16);
        signFlip = layout.IsOffsetBinary ? int.MinValue : 0;
        if (layout.Bytes <= 4)
        {
            leftFromFirst = Picks(channel: 0, window: 0);
            leftFromSecond = Picks(channel: 0, window: 1);
            rightFromFirst = Picks(channel: channels - 1, window: 0);
            rightFromSecond = Picks(channel: channels - 1, window: 1);
        }
    }

    /// <summary>Bytes of one frame.</summary>
    internal int FrameBytes { get; }

    /// <summary>
    /// Decodes <c>left.Length</c> frames; one channel goes to both sides. Returns false when a float is NaN or infinite.
    /// </summary>
    internal bool Decode(ReadOnlySpan<byte> source, Span<float> left, Span<float> right)
    {
        int frames = left.Length;
        ArgumentOutOfRangeException.ThrowIfNotEqual(right.Length, frames);
        ArgumentOutOfRangeException.ThrowIfLessThan(source.Length, frames * FrameBytes);
        int largest = 0;
        int done = (layout.IsFloat, channels) switch
        {
            (true, _) when layout.Bytes == 8 => 0,
            (true, 1) => DecodeFloats(source, left, ref largest),
            (true, _) => DecodeFloats(source, left, right, ref largest),
            (false, 1) => DecodeIntegers(source, left),
            _ => DecodeIntegers(source, left, right),
        };
        for (int frame = done; frame < frames; frame++)
        {
            ReadOnlySpan<byte> bytes = source.Slice(frame * FrameBytes, FrameBytes);
            left[frame] = One(bytes, ref largest);
            if (channels == 2)
            {
                right[frame] = One(bytes[layout.Bytes..], ref largest);
            }
        }

        if (channels == 1)
        {
            left.CopyTo(right);
        }

        return largest < FiniteLimit;
    }

    private int DecodeIntegers(ReadOnlySpan<byte> source, Span<float> left, Span<float> right)
    {
        ref byte from = ref MemoryMarshal.GetReference(source);
        ref float toLeft = ref MemoryMarshal.GetReference(left);
        ref float toRight = ref MemoryMarshal.GetReference(right);
        Vector128<byte> l0 = leftFromFirst, l1 = leftFromSecond, r0 = rightFromFirst, r1 = rightFromSecond;
        Vector128<int> flip = Vector128.Create(signFlip);
        int second = secondLoad, step = stepBytes, frames = WholeVectors(source.Length, left.Length);
        nuint at = 0;
        for (int frame = 0; frame < frames; frame += 4, at += (nuint)step)
        {
            Vector128<byte> a = Vector128.LoadUnsafe(ref from, at);
            Vector128<byte> b = Vector128.LoadUnsafe(ref from, at + (nuint)second);
            Vector128<int> l = (Vector128.ShuffleNative(a, l0) | Vector128.ShuffleNative(b, l1)).AsInt32() ^ flip;
            Vector128<int> r = (Vector128.ShuffleNative(a, r0) | Vector128.ShuffleNative(b, r1)).AsInt32() ^ flip;
            (Vector128.ConvertToSingle(l) * LeftJustifiedScale).StoreUnsafe(ref toLeft, (nuint)frame);
            (Vector128.ConvertToSingle(r) * LeftJustifiedScale).StoreUnsafe(ref toRight, (nuint)frame);
        }

        return frames;
    }

    private int DecodeIntegers(ReadOnlySpan<byte> source, Span<float> only)
    {
        ref byte from = ref MemoryMarshal.GetReference(source);
        ref float to = ref MemoryMarshal.GetReference(only);
        Vector128<byte> picks = leftFromFirst;
        Vector128<int> flip = Vector128.Create(signFlip);
        int step = stepBytes, frames = WholeVectors(source.Length, only.Length);
        nuint at = 0;
        for (int frame = 0; frame < frames; frame += 4, at += (nuint)step)
        {
            Vector128<int> whole = Vector128.ShuffleNative(Vector128.LoadUnsafe(ref from, at), picks).AsInt32() ^ flip;
            (Vector128.ConvertToSingle(whole) * LeftJustifiedScale).StoreUnsafe(ref to, (nuint)frame);
        }

        return frames;
    }

    private int DecodeFloats(ReadOnlySpan<byte> source, Span<float> left, Span<float> right, ref int largest)
    {
        ref byte from = ref MemoryMarshal.GetReference(source);
        ref float toLeft = ref MemoryMarshal.GetReference(left);
        ref float toRight = ref MemoryMarshal.GetReference(right);
        Vector128<byte> l0 = leftFromFirst, l1 = leftFromSecond, r0 = rightFromFirst, r1 = rightFromSecond;
        Vector128<int> magnitudes = Vector128<int>.Zero, unsigned = Vector128.Create(int.MaxValue);
        int second = secondLoad, step = stepBytes, frames = WholeVectors(source.Length, left.Length);
        nuint at = 0;
        for (int frame = 0; frame < frames; frame += 4, at += (nuint)step)
        {
            Vector128<byte> a = Vector128.LoadUnsafe(ref from, at);
            Vector128<byte> b = Vector128.LoadUnsafe(ref from, at + (nuint)second);
            Vector128<int> l = (Vector128.ShuffleNative(a, l0) | Vector128.ShuffleNative(b, l1)).AsInt32();
            Vector128<int> r = (Vector128.ShuffleNative(a, r0) | Vector128.ShuffleNative(b, r1)).AsInt32();
            magnitudes = Vector128.Max(magnitudes, Vector128.Max(l & unsigned, r & unsigned));
            l.AsSingle().StoreUnsafe(ref toLeft, (nuint)frame);
            r.AsSingle().StoreUnsafe(ref toRight, (nuint)frame);
        }

        largest = Largest(magnitudes);
        return frames;
    }

    private int DecodeFloats(ReadOnlySpan<byte> source, Span<float> only, ref int largest)
    {
        ref byte from = ref MemoryMarshal.GetReference(source);
        ref float to = ref MemoryMarshal.GetReference(only);
        Vector128<byte> picks = leftFromFirst;
        Vector128<int> magnitudes = Vector128<int>.Zero, unsigned = Vector128.Create(int.MaxValue);
        int step = stepBytes, frames = WholeVectors(source.Length, only.Length);
        nuint at = 0;
        for (int frame = 0; frame < frames; frame += 4, at += (nuint)step)
        {
            Vector128<int> bits = Vector128.ShuffleNative(Vector128.LoadUnsafe(ref from, at), picks).AsInt32();
            magnitudes = Vector128.Max(magnitudes, bits & unsigned);
            bits.AsSingle().StoreUnsafe(ref to, (nuint)frame);
        }

        largest = Largest(magnitudes);
        return frames;
    }

    private float One(ReadOnlySpan<byte> bytes, ref int largest)
    {
        if (!layout.IsFloat)
        {
            return (LeftJustified(bytes) ^ signFlip) * LeftJustifiedScale;
        }

        float value = layout.Bytes == 4
            ? BitConverter.Int32BitsToSingle(LeftJustified(bytes))
            : (float)(layout.IsBigEndian
                ? BinaryPrimitives.ReadDoubleBigEndian(bytes)
                : BinaryPrimitives.ReadDoubleLittleEndian(bytes));
        largest = Math.Max(largest, BitConverter.SingleToInt32Bits(value) & int.MaxValue);
        return value;
    }

    private int LeftJustified(ReadOnlySpan<byte> bytes)
    {
        uint bits = 0;
        for (int rank = 0; rank < layout.Bytes; rank++)
        {
            bits |= (uint)bytes[ByteOfRank(rank)] << (24 - (8 * rank));
        }

        return (int)bits;
    }

    /// <summary>Where in a sample its byte of a rank lies; rank 0 is the most significant.</summary>
    private int ByteOfRank(int rank) => layout.IsBigEndian ? rank : layout.Bytes - 1 - rank;

    /// <summary>Which bytes of a load go to which byte of the four lanes; 255 leaves a zero.</summary>
    private Vector128<byte> Picks(int channel, int window)
    {
        Span<byte> picks = stackalloc byte[16];
        picks.Fill(255);
        for (int frame = 0; frame < 4; frame++)
        {
            int sample = (frame * FrameBytes) + (channel * layout.Bytes);
            bool isInFirst = sample + layout.Bytes <= 16;
            if (isInFirst != (window == 0))
            {
                continue;
            }

            for (int rank = 0; rank < layout.Bytes; rank++)
            {
                picks[(4 * frame) + 3 - rank] = (byte)(sample + ByteOfRank(rank) - (isInFirst ? 0 : secondLoad));
            }
        }

        return Vector128.Create<byte>(picks);
    }

    /// <summary>Frames that whole vectors can take without reading past the end of the source.</summary>
    private int WholeVectors(int sourceBytes, int frames)
    {
        int reach = Math.Max(16, stepBytes);
        int byBytes = sourceBytes < reach ? 0 : ((sourceBytes - reach) / stepBytes) + 1;
        return 4 * Math.Min(byBytes, frames / 4);
    }

    private static int Largest(Vector128<int> lanes) => Math.Max(
        Math.Max(lanes.GetElement(0), lanes.GetElement(1)),
        Math.Max(lanes.GetElement(2), lanes.GetElement(3)));
}
