using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Files.Reading;

/// <summary>
/// Whole numbers to floats of full scale ±1: exact up to 24 bits, 32 bits rounded to the nearest float, ties to even.
/// </summary>
internal sealed class IntegerDecoding(SampleLayout layout, int channels)
{
    private const float Scale = 1f / 2147483648f;

    private readonly FrameShuffle shuffle = new(layout, channels);
    private readonly WideFrameShuffle? wide = WideFrameShuffle.Serves(layout, channels) ? new WideFrameShuffle(layout) : null;
    private readonly int signFlip = layout.IsOffsetBinary ? int.MinValue : 0;

    /// <summary>Decodes both channels.</summary>
    internal void Decode(ReadOnlySpan<byte> source, Span<float> left, Span<float> right)
    {
        if (wide is not null)
        {
            int taken = wide.Decode(source, left, right, signFlip, Scale);
            left = left[taken..];
            right = right[taken..];
            source = source[(taken * 2 * layout.Bytes)..];
        }

        int frames = shuffle.WholeVectors(source.Length, left.Length);
        DecodeVectors(source, left, right, frames);
        for (int frame = frames; frame < left.Length; frame++)
        {
            ReadOnlySpan<byte> bytes = source.Slice(frame * 2 * layout.Bytes, 2 * layout.Bytes);
            left[frame] = One(bytes);
            right[frame] = One(bytes[layout.Bytes..]);
        }
    }

    /// <summary>Decodes the only channel.</summary>
    internal void Decode(ReadOnlySpan<byte> source, Span<float> only)
    {
        int frames = shuffle.WholeVectors(source.Length, only.Length);
        DecodeVectors(source, only, frames);
        for (int frame = frames; frame < only.Length; frame++)
        {
            only[frame] = One(source.Slice(frame * layout.Bytes, layout.Bytes));
        }
    }

    private void DecodeVectors(ReadOnlySpan<byte> source, Span<float> left, Span<float> right, int frames)
    {
        ref byte from = ref MemoryMarshal.GetReference(source);
        ref float toLeft = ref MemoryMarshal.GetReference(left);
        ref float toRight = ref MemoryMarshal.GetReference(right);
        Vector128<byte> leftFromFirst = shuffle.LeftFromFirst, leftFromSecond = shuffle.LeftFromSecond;
        Vector128<byte> rightFromFirst = shuffle.RightFromFirst, rightFromSecond = shuffle.RightFromSecond;
        Vector128<int> flip = Vector128.Create(signFlip);
        nuint at = 0, second = (nuint)shuffle.SecondLoad, step = (nuint)shuffle.StepBytes;
        for (int frame = 0; frame < frames; frame += 4, at += step)
        {
            Vector128<byte> a = Vector128.LoadUnsafe(ref from, at);
            Vector128<byte> b = Vector128.LoadUnsafe(ref from, at + second);
            Vector128<byte> l = Vector128.ShuffleNative(a, leftFromFirst) | Vector128.ShuffleNative(b, leftFromSecond);
            Vector128<byte> r = Vector128.ShuffleNative(a, rightFromFirst) | Vector128.ShuffleNative(b, rightFromSecond);
            (Vector128.ConvertToSingle(l.AsInt32() ^ flip) * Scale).StoreUnsafe(ref toLeft, (nuint)frame);
            (Vector128.ConvertToSingle(r.AsInt32() ^ flip) * Scale).StoreUnsafe(ref toRight, (nuint)frame);
        }
    }

    private void DecodeVectors(ReadOnlySpan<byte> source, Span<float> only, int frames)
    {
        ref byte from = ref MemoryMarshal.GetReference(source);
        ref float to = ref MemoryMarshal.GetReference(only);
        Vector128<byte> picks = shuffle.LeftFromFirst;
        Vector128<int> flip = Vector128.Create(signFlip);
        nuint at = 0, step = (nuint)shuffle.StepBytes;
        for (int frame = 0; frame < frames; frame += 4, at += step)
        {
            Vector128<byte> bytes = Vector128.ShuffleNative(Vector128.LoadUnsafe(ref from, at), picks);
            (Vector128.ConvertToSingle(bytes.AsInt32() ^ flip) * Scale).StoreUnsafe(ref to, (nuint)frame);
        }
    }

    private float One(ReadOnlySpan<byte> bytes)
    {
        int leftJustified = 0;
        for (int rank = 0; rank < layout.Bytes; rank++)
        {
            leftJustified |= bytes[layout.ByteOfRank(rank)] << (24 - (8 * rank));
        }

        return (leftJustified ^ signFlip) * Scale;
    }
}
