using System.Buffers.Binary;

namespace LiveStems.Files.Reading;

/// <summary>
/// Finds the samples in a RIFF/WAVE file (Multimedia Programming Interface and Data Specifications 1.0, 1991) and its
/// 64-bit forms RF64 (EBU Tech 3306) and BW64 (ITU-R BS.2088): chunks may come in any order, unknown ones are passed
/// over, a size that its writer never filled in means the rest of the file.
/// </summary>
internal static class WavHeader
{
    /// <summary>Reads the header of a file that starts with RIFF, RF64 or BW64 and then WAVE.</summary>
    internal static PcmContent Parse(SoundBytes file)
    {
        Span<byte> start = stackalloc byte[12];
        file.ReadHeader(0, start);
        bool isRiff = start.StartsWith("RIFF"u8);
        string container = isRiff ? "WAV" : start.StartsWith("RF64"u8) ? "RF64" : "BW64";
        bool fillsTheFile = BinaryPrimitives.ReadUInt32LittleEndian(start[4..]) + 8L == file.Length;
        LongSizes sizes = default;
        WaveFormatChunk? format = null;
        long? dataOffset = null;
        long? dataBytes = null;
        ChunkWalk chunks = new(file, isBigEndian: false);
        while ((format is null || dataOffset is null) && chunks.Next())
        {
            if (!isRiff && chunks.Size == uint.MaxValue && sizes.SizeOf(chunks.Id) is long size)
            {
                chunks.Resize(size);
            }

            switch (chunks.Id)
            {
                case ChunkId.Ds64 when !isRiff:
                    sizes = LongSizes.Parse(file, chunks.Offset, chunks.Size);
                    break;
                case ChunkId.Fmt:
                    format ??= WaveFormatChunk.Parse(file, chunks.Offset, chunks.Size);
                    break;
                case ChunkId.Data when dataOffset is null:
                    dataOffset = chunks.Offset;
                    bool isEmpty = chunks.Size == 0 && fillsTheFile;
                    bool isRest = !isEmpty && WasNeverFilledIn(chunks.Size, file.Length - chunks.Offset);
                    dataBytes = isRest ? null : chunks.Size;
                    break;
            }
        }

        if (dataOffset is not long offset)
        {
            throw file.Fault("holds no sound (no 'data' chunk, or it breaks off before); copy or export it again");
        }

        if (format is not WaveFormatChunk form)
        {
            throw file.Fault("has a damaged header (no 'fmt ' chunk); export it again");
        }

        SampleLayout layout = form.CheckedLayout(file);
        int sampleRate = (int)form.SampleRate;
        long frames = PcmContent.CheckedFrames(file, file.Length - offset, dataBytes, form.FrameBytes, sampleRate);
        return new PcmContent(container, layout, form.ValidBits, form.Channels, sampleRate, offset, frames);
    }

    /// <summary>
    /// Is this the size that a writer leaves who could not come back to the header? Checked by writing into pipes: ffmpeg
    /// leaves 0xFFFFFFFF, sox 14.4.2 whole frames below 0x7FFFF000. 0 is what a writer leaves who died.
    /// </summary>
    private static bool WasNeverFilledIn(long size, long there) => size switch
    {
        <= 0 => true,
        _ when size <= there => false,
        uint.MaxValue => true,
        _ => size is > 0x7FFFE000 and <= int.MaxValue,
    };
}
