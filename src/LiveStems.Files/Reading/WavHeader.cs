using System.Buffers.Binary;

namespace LiveStems.Files.Reading;

/// <summary>
/// Finds the samples in a RIFF/WAVE file (Multimedia Programming Interface and Data Specifications 1.0, 1991) and its
/// 64-bit forms RF64 (EBU Tech 3306) and BW64 (ITU-R BS.2088): chunks may come in any order, unknown ones are passed
/// over, a size that its writer never filled in means the rest of the file.
/// </summary>
internal static class WavHeader
{
    private const uint Unknown32 = uint.MaxValue;

    // What sox writes as the size of sound it cannot know the length of (checked with sox 14.4.2 into a pipe).
    private const uint UnknownToSox = 0x7FFFF000;

    // More chunks than any honest file has: keeps a gigabyte of zeros from being walked eight bytes at a time.
    private const int MostChunks = 4096;

    /// <summary>Reads the header of a file that starts with RIFF, RF64 or BW64 and then WAVE.</summary>
    internal static PcmContent Parse(SoundBytes file)
    {
        Span<byte> header = stackalloc byte[12];
        file.ReadHeader(0, header);
        bool isRiff = header.StartsWith("RIFF"u8);
        string container = isRiff ? "WAV" : header.StartsWith("RF64"u8) ? "RF64" : "BW64";
        uint riffSize = BinaryPrimitives.ReadUInt32LittleEndian(header[4..]);
        LongSizes sizes = default;
        WaveFormatChunk? format = null;
        (long Offset, long? Bytes)? data = null;
        long offset = 12;
        for (int chunk = 0; (format is null || data is null) && offset + 8 <= file.Length; chunk++)
        {
            if (chunk == MostChunks)
            {
                throw file.Fault("has a damaged header (thousands of chunks and no sound among them); export it again");
            }

            file.ReadHeader(offset, header[..8]);
            uint id = BinaryPrimitives.ReadUInt32BigEndian(header);
            long size = BinaryPrimitives.ReadUInt32LittleEndian(header[4..]);
            offset += 8;
            if (!isRiff && size == Unknown32)
            {
                size = sizes.SizeOf(id) ?? size;
            }

            switch (id)
            {
                case ChunkId.Ds64 when !isRiff:
                    sizes = LongSizes.Parse(file, offset, size);
                    break;
                case ChunkId.Fmt:
                    format ??= WaveFormatChunk.Parse(file, offset, size);
                    break;
                case ChunkId.Data when data is null:
                    bool isWhole = size == 0 && riffSize + 8L == file.Length;
                    data = (offset, IsUnknown(size) && !isWhole ? null : size);
                    break;
            }

            if (data is { Bytes: null })
            {
                break;
            }

            // Chunks start on even bytes; the pad byte is not counted in the size.
            offset = size > file.Length - offset ? file.Length : offset + size + (size & 1);
        }

        if (data is null)
        {
            throw file.Fault("holds no sound (no 'data' chunk); export it again");
        }

        if (format is not WaveFormatChunk form)
        {
            throw file.Fault("has a damaged header (no 'fmt ' chunk); export it again");
        }

        SampleLayout layout = form.CheckedLayout(file);
        int sampleRate = (int)form.SampleRate;
        long frames = PcmContent.CheckedFrames(file, data.Value.Offset, data.Value.Bytes, form.FrameBytes, sampleRate);
        return new PcmContent(container, layout, form.ValidBits, form.Channels, sampleRate, data.Value.Offset, frames);
    }

    private static bool IsUnknown(long size) => size is 0 or Unknown32 or UnknownToSox or < 0;
}
