using System.Buffers.Binary;
using LiveStems.Files;

namespace LiveStems.Tests.Files.Reading;

/// <summary>Decoding of one sample, as plainly as it can be said.</summary>
internal static class PlainDecoding
{
    public static float One(SampleLayout layout, ReadOnlySpan<byte> bytes)
    {
        byte[] littleEndian = bytes[..layout.Bytes].ToArray();
        if (layout.IsBigEndian)
        {
            Array.Reverse(littleEndian);
        }

        if (layout.IsFloat)
        {
            return layout.Bytes == 8
                ? (float)BinaryPrimitives.ReadDoubleLittleEndian(littleEndian)
                : BinaryPrimitives.ReadSingleLittleEndian(littleEndian);
        }

        long whole = 0;
        for (int index = layout.Bytes - 1; index >= 0; index--)
        {
            whole = (whole << 8) | littleEndian[index];
        }

        long half = 1L << ((8 * layout.Bytes) - 1);
        whole = layout.IsOffsetBinary ? whole - half : whole >= half ? whole - (2 * half) : whole;
        return (float)((double)whole / half);
    }
}
