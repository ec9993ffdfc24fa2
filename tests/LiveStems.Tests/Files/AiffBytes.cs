using System.Buffers.Binary;
using System.Text;

namespace LiveStems.Tests.Files;

/// <summary>Builds AIFF and AIFC files byte by byte.</summary>
internal static class AiffBytes
{
    // 80-bit rates: REFERENCES table of AIFF, equal to what sox writes.
    public static readonly byte[] Rate48000 = [0x40, 0x0E, 0xBB, 0x80, 0, 0, 0, 0, 0, 0];

    /// <summary>A FORM file of chunks.</summary>
    public static byte[] File(string form, params byte[][] chunks)
    {
        byte[] body = [.. Encoding.ASCII.GetBytes(form), .. chunks.SelectMany(chunk => chunk)];
        return [.. Encoding.ASCII.GetBytes("FORM"), .. UInt32((uint)body.Length), .. body];
    }

    /// <summary>A chunk, its pad byte included; its size may be a lie.</summary>
    public static byte[] Chunk(string id, byte[] data, uint? size = null) =>
        [.. Encoding.ASCII.GetBytes(id), .. UInt32(size ?? (uint)data.Length), .. data, .. new byte[data.Length & 1]];

    public static byte[] Comm(ushort channels, uint frames, ushort bits, byte[]? rate = null, string? coding = null)
    {
        byte[] plain = [.. UInt16(channels), .. UInt32(frames), .. UInt16(bits), .. rate ?? Rate48000];
        return Chunk("COMM", coding is null ? plain : [.. plain, .. Encoding.ASCII.GetBytes(coding), 0, 0]);
    }

    /// <summary>Samples after some bytes that are to be skipped.</summary>
    public static byte[] Sound(byte[] samples, int skipped = 0, uint? size = null) =>
        Chunk("SSND", [.. UInt32((uint)skipped), .. UInt32(0), .. new byte[skipped], .. samples], size);

    public static byte[] UInt16(ushort value)
    {
        byte[] bytes = new byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(bytes, value);
        return bytes;
    }

    public static byte[] UInt32(uint value)
    {
        byte[] bytes = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(bytes, value);
        return bytes;
    }
}
