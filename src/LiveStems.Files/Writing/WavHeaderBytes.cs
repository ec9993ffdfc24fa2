using System.Buffers.Binary;

namespace LiveStems.Files.Writing;

/// <summary>
/// Lays out the header of a WAV file: RIFF, room for 64-bit sizes, 'fmt ', for floats 'fact', notes, and the head of 'data'.
/// </summary>
/// <remarks>
/// The room is a 'JUNK' chunk that becomes 'ds64', and RIFF becomes RF64, when the file outgrows 32-bit sizes (EBU Tech
/// 3306; BS.2088 section 4.3). More than 16 bits are told as WAVEFORMATEXTENSIBLE, floats as tag 3 with 'fact', as sox and
/// ffmpeg write them.
/// </remarks>
internal static class WavHeaderBytes
{
    private const int LongSizesBytes = 28;

    private static ReadOnlySpan<byte> PcmGuid =>
        [0x01, 0x00, 0x00, 0x00, 0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xAA, 0x00, 0x38, 0x9B, 0x71];

    /// <summary>The header of a file with so many frames.</summary>
    /// <param name="format">The form of the samples.</param>
    /// <param name="frames">Frames in the file.</param>
    /// <param name="longestRiff">Largest RIFF size that is still told in 32 bits: 2^32 − 1, less in tests.</param>
    /// <param name="notes">Chunks that stand before the sound.</param>
    internal static byte[] Of(WavFormat format, long frames, long longestRiff, FileNotes notes)
    {
        byte[] fmt = Fmt(format);
        int factBytes = format.IsFloat ? 12 : 0;
        (string Id, byte[] Body)[] chunks = [.. notes.Chunks()];
        int noteBytes = chunks.Sum(chunk => 8 + chunk.Body.Length + chunk.Body.Length % 2);
        byte[] header = new byte[12 + 8 + LongSizesBytes + 8 + fmt.Length + factBytes + noteBytes + 8];
        long dataBytes = frames * format.FrameBytes;
        long riffBytes = header.Length - 8 + dataBytes + (dataBytes & 1);
        bool isLong = riffBytes > longestRiff;
        Span<byte> to = header;
        to = Put(to, isLong ? "RF64"u8 : "RIFF"u8, isLong ? uint.MaxValue : (uint)riffBytes);
        "WAVE"u8.CopyTo(to);
        to = Put(to[4..], isLong ? "ds64"u8 : "JUNK"u8, LongSizesBytes);
        if (isLong)
        {
            BinaryPrimitives.WriteInt64LittleEndian(to, riffBytes);
            BinaryPrimitives.WriteInt64LittleEndian(to[8..], dataBytes);
            BinaryPrimitives.WriteInt64LittleEndian(to[16..], frames);
        }

        to = Put(to[LongSizesBytes..], "fmt "u8, (uint)fmt.Length);
        fmt.CopyTo(to);
        to = to[fmt.Length..];
        if (format.IsFloat)
        {
            to = Put(to, "fact"u8, 4);
            BinaryPrimitives.WriteUInt32LittleEndian(to, isLong ? uint.MaxValue : (uint)frames);
            to = to[4..];
        }

        foreach ((string id, byte[] body) in chunks)
        {
            to = Put(to, System.Text.Encoding.ASCII.GetBytes(id), (uint)body.Length);
            body.CopyTo(to);
            to = to[(body.Length + body.Length % 2)..];
        }

        Put(to, "data"u8, isLong ? uint.MaxValue : (uint)dataBytes);
        return header;
    }

    private static byte[] Fmt(WavFormat format)
    {
        bool isExtensible = !format.IsFloat && format.BitsPerSample > 16;
        byte[] fmt = new byte[isExtensible ? 40 : format.IsFloat ? 18 : 16];
        Span<byte> to = fmt;
        BinaryPrimitives.WriteUInt16LittleEndian(to, (ushort)(isExtensible ? 0xFFFE : format.IsFloat ? 3 : 1));
        BinaryPrimitives.WriteUInt16LittleEndian(to[2..], (ushort)format.Channels);
        BinaryPrimitives.WriteInt32LittleEndian(to[4..], format.SampleRate);
        BinaryPrimitives.WriteInt32LittleEndian(to[8..], format.SampleRate * format.FrameBytes);
        BinaryPrimitives.WriteUInt16LittleEndian(to[12..], (ushort)format.FrameBytes);
        BinaryPrimitives.WriteUInt16LittleEndian(to[14..], (ushort)format.BitsPerSample);
        if (isExtensible)
        {
            BinaryPrimitives.WriteUInt16LittleEndian(to[16..], 22);
            BinaryPrimitives.WriteUInt16LittleEndian(to[18..], (ushort)format.BitsPerSample);
            BinaryPrimitives.WriteUInt32LittleEndian(to[20..], format.Channels == 2 ? 3u : 4u);
            PcmGuid.CopyTo(to[24..]);
        }

        return fmt;
    }

    private static Span<byte> Put(Span<byte> to, ReadOnlySpan<byte> id, uint size)
    {
        id.CopyTo(to);
        BinaryPrimitives.WriteUInt32LittleEndian(to[4..], size);
        return to[8..];
    }
}
