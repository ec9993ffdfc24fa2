using System.Buffers.Binary;
using System.Text;

namespace LiveStems.Tests.Files;

/// <summary>Builds WAV files byte by byte, right ones and wrong ones.</summary>
internal static class WavBytes
{
    /// <summary>Two frames of 16-bit stereo: 0.25, −0.25, 0.5, −0.5.</summary>
    public static byte[] TwoFrames => Chunk("data", Shorts(8192, -8192, 16384, -16384));

    /// <summary>The 'fmt ' chunk of 16-bit stereo at 48 kHz.</summary>
    public static byte[] PlainFmt => Fmt(tag: 1, channels: 2, rate: 48_000, bits: 16);

    /// <summary>A RIFF file of chunks.</summary>
    public static byte[] File(params byte[][] chunks) => Form("RIFF", size: null, chunks);

    /// <summary>A file of another form, or of a size that is not its own.</summary>
    public static byte[] Form(string id, uint? size, params byte[][] chunks)
    {
        byte[] body = [.. Encoding.ASCII.GetBytes("WAVE"), .. chunks.SelectMany(chunk => chunk)];
        return [.. Encoding.ASCII.GetBytes(id), .. UInt32(size ?? (uint)body.Length), .. body];
    }

    /// <summary>A chunk, its pad byte included; its size may be a lie.</summary>
    public static byte[] Chunk(string id, byte[] data, uint? size = null) =>
        [.. Encoding.Latin1.GetBytes(id), .. UInt32(size ?? (uint)data.Length), .. data, .. new byte[data.Length & 1]];

    public static byte[] Fmt(ushort tag, ushort channels, uint rate, ushort bits, ushort? frameBytes = null) =>
        Chunk("fmt ", FmtData(tag, channels, rate, bits, frameBytes));

    public static byte[] Extensible(ushort tag, ushort channels, uint rate, ushort bits, ushort validBits, uint mask) => Chunk(
        "fmt ",
        [
            .. FmtData(0xFFFE, channels, rate, bits, null), 22, 0, .. UInt16(validBits), .. UInt32(mask), .. UInt16(tag),
            0x00, 0x00, 0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xAA, 0x00, 0x38, 0x9B, 0x71,
        ]);

    /// <summary>A 'ds64' chunk.</summary>
    public static byte[] Ds64(ulong riffBytes, ulong dataBytes, ulong frames, params (string Id, ulong Size)[] table) => Chunk(
        "ds64",
        [
            .. UInt64(riffBytes), .. UInt64(dataBytes), .. UInt64(frames), .. UInt32((uint)table.Length),
            .. table.SelectMany(entry => (byte[])[.. Encoding.ASCII.GetBytes(entry.Id), .. UInt64(entry.Size)]),
        ]);

    public static byte[] Shorts(params short[] samples) => [.. samples.SelectMany(sample => UInt16((ushort)sample))];

    public static byte[] Floats(params float[] samples) => [.. samples.SelectMany(BitConverter.GetBytes)];

    public static byte[] UInt16(ushort value)
    {
        byte[] bytes = new byte[2];
        BinaryPrimitives.WriteUInt16LittleEndian(bytes, value);
        return bytes;
    }

    public static byte[] UInt32(uint value)
    {
        byte[] bytes = new byte[4];
        BinaryPrimitives.WriteUInt32LittleEndian(bytes, value);
        return bytes;
    }

    public static byte[] UInt64(ulong value)
    {
        byte[] bytes = new byte[8];
        BinaryPrimitives.WriteUInt64LittleEndian(bytes, value);
        return bytes;
    }

    private static byte[] FmtData(ushort tag, ushort channels, uint rate, ushort bits, ushort? frameBytes)
    {
        ushort block = frameBytes ?? (ushort)(channels * ((bits + 7) / 8));
        return
        [
            .. UInt16(tag), .. UInt16(channels), .. UInt32(rate), .. UInt32(rate * block), .. UInt16(block), .. UInt16(bits),
        ];
    }
}
