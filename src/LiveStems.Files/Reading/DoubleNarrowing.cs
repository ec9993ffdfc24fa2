using System.Buffers.Binary;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Files.Reading;

/// <summary>64-bit floats to 32-bit ones, rounded to the nearest, ties to even; what is too large becomes infinite.</summary>
internal sealed class DoubleNarrowing
{
    private readonly Vector128<byte> order;
    private readonly bool isBigEndian;

    internal DoubleNarrowing(bool isBigEndian)
    {
        this.isBigEndian = isBigEndian;
        order = isBigEndian
            ? Vector128.Create((byte)7, 6, 5, 4, 3, 2, 1, 0, 15, 14, 13, 12, 11, 10, 9, 8)
            : Vector128.Create((byte)0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15);
    }

    /// <summary>Narrows as many samples as the destination holds.</summary>
    internal void Narrow(ReadOnlySpan<byte> source, Span<float> destination)
    {
        ref byte from = ref MemoryMarshal.GetReference(source[..(destination.Length * sizeof(double))]);
        ref float to = ref MemoryMarshal.GetReference(destination);
        Vector128<byte> bytesInOrder = order;
        int vectors = destination.Length & ~3;
        for (int sample = 0; sample < vectors; sample += 4)
        {
            nuint at = (nuint)sample * sizeof(double);
            Vector128<double> a = Vector128.ShuffleNative(Vector128.LoadUnsafe(ref from, at), bytesInOrder).AsDouble();
            Vector128<double> b = Vector128.ShuffleNative(Vector128.LoadUnsafe(ref from, at + 16), bytesInOrder).AsDouble();
            Vector128.Narrow(a, b).StoreUnsafe(ref to, (nuint)sample);
        }

        for (int sample = vectors; sample < destination.Length; sample++)
        {
            ReadOnlySpan<byte> bytes = source[(sample * sizeof(double))..];
            destination[sample] = (float)(isBigEndian
                ? BinaryPrimitives.ReadDoubleBigEndian(bytes)
                : BinaryPrimitives.ReadDoubleLittleEndian(bytes));
        }
    }
}
