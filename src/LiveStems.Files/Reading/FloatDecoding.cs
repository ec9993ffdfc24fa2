using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Files.Reading;

/// <summary>32-bit floats, bit for bit, told whether all are finite.</summary>
internal sealed class FloatDecoding(bool isBigEndian, int channels)
{
    // Bits of infinity; those of NaN are more.
    private const int FiniteLimit = 0x7F800000;

    private readonly FrameShuffle shuffle = new(new SampleLayout(IsFloat: true, sizeof(float), isBigEndian), channels);

    /// <summary>Decodes both channels; false when a sample is NaN or infinite.</summary>
    internal bool Decode(ReadOnlySpan<byte> source, Span<float> left, Span<float> right)
    {
        int frames = shuffle.WholeVectors(source.Length, left.Length);
        int largest = DecodeVectors(source, left, right, frames);
        for (int frame = frames; frame < left.Length; frame++)
        {
            ReadOnlySpan<byte> bytes = source.Slice(frame * 2 * sizeof(float), 2 * sizeof(float));
            left[frame] = One(bytes, ref largest);
            right[frame] = One(bytes[sizeof(float)..], ref largest);
        }

        return largest < FiniteLimit;
    }

    /// <summary>Decodes the only channel; false when a sample is NaN or infinite.</summary>
    internal bool Decode(ReadOnlySpan<byte> source, Span<float> only)
    {
        int frames = shuffle.WholeVectors(source.Length, only.Length);
        int largest = DecodeVectors(source, only, frames);
        for (int frame = frames; frame < only.Length; frame++)
        {
            only[frame] = One(source.Slice(frame * sizeof(float), sizeof(float)), ref largest);
        }

        return largest < FiniteLimit;
    }

    private int DecodeVectors(ReadOnlySpan<byte> source, Span<float> left, Span<float> right, int frames)
    {
        ref byte from = ref MemoryMarshal.GetReference(source);
        ref float toLeft = ref MemoryMarshal.GetReference(left);
        ref float toRight = ref MemoryMarshal.GetReference(right);
        Vector128<byte> leftFromFirst = shuffle.LeftFromFirst, leftFromSecond = shuffle.LeftFromSecond;
        Vector128<byte> rightFromFirst = shuffle.RightFromFirst, rightFromSecond = shuffle.RightFromSecond;
        Vector128<int> largest = Vector128<int>.Zero, unsigned = Vector128.Create(int.MaxValue);
        nuint at = 0, second = (nuint)shuffle.SecondLoad, step = (nuint)shuffle.StepBytes;
        for (int frame = 0; frame < frames; frame += 4, at += step)
        {
            Vector128<byte> a = Vector128.LoadUnsafe(ref from, at);
            Vector128<byte> b = Vector128.LoadUnsafe(ref from, at + second);
            Vector128<int> l = (Vector128.ShuffleNative(a, leftFromFirst) | Vector128.ShuffleNative(b, leftFromSecond)).AsInt32();
            Vector128<int> r = (Vector128.ShuffleNative(a, rightFromFirst) | Vector128.ShuffleNative(b, rightFromSecond)).AsInt32();
            largest = Vector128.Max(largest, Vector128.Max(l & unsigned, r & unsigned));
            l.AsSingle().StoreUnsafe(ref toLeft, (nuint)frame);
            r.AsSingle().StoreUnsafe(ref toRight, (nuint)frame);
        }

        return Largest(largest);
    }

    private int DecodeVectors(ReadOnlySpan<byte> source, Span<float> only, int frames)
    {
        ref byte from = ref MemoryMarshal.GetReference(source);
        ref float to = ref MemoryMarshal.GetReference(only);
        Vector128<byte> picks = shuffle.LeftFromFirst;
        Vector128<int> largest = Vector128<int>.Zero, unsigned = Vector128.Create(int.MaxValue);
        nuint at = 0, step = (nuint)shuffle.StepBytes;
        for (int frame = 0; frame < frames; frame += 4, at += step)
        {
            Vector128<int> bits = Vector128.ShuffleNative(Vector128.LoadUnsafe(ref from, at), picks).AsInt32();
            largest = Vector128.Max(largest, bits & unsigned);
            bits.AsSingle().StoreUnsafe(ref to, (nuint)frame);
        }

        return Largest(largest);
    }

    private float One(ReadOnlySpan<byte> bytes, ref int largest)
    {
        int bits = isBigEndian ? BinaryPrimitives.ReadInt32BigEndian(bytes) : BinaryPrimitives.ReadInt32LittleEndian(bytes);
        largest = Math.Max(largest, bits & int.MaxValue);
        return BitConverter.Int32BitsToSingle(bits);
    }

    private static int Largest(Vector128<int> lanes) => Math.Max(
        Math.Max(lanes.GetElement(0), lanes.GetElement(1)),
        Math.Max(lanes.GetElement(2), lanes.GetElement(3)));
}
