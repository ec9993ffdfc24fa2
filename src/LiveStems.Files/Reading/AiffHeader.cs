using System.Buffers.Binary;

namespace LiveStems.Files.Reading;

/// <summary>
/// Finds the samples in an AIFF or AIFC file (Apple, Audio Interchange File Format 1.3 and AIFF-C draft of 1991; from
/// memory, COMM checked with sox and ffmpeg): chunks may come in any order, unknown ones are passed over.
/// </summary>
internal static class AiffHeader
{
    // Offset to the first sample, and block size, before the samples in 'SSND'.
    private const int SoundHeadBytes = 8;

    /// <summary>Reads the header of a file that starts with FORM and then AIFF or AIFC.</summary>
    internal static PcmContent Parse(SoundBytes file)
    {
        Span<byte> start = stackalloc byte[12];
        file.ReadHeader(0, start);
        bool isAifc = start[8..].SequenceEqual("AIFC"u8);
        AiffCommonChunk? common = null;
        (long Offset, long Size)? sound = null;
        ChunkWalk chunks = new(file, isBigEndian: true);
        while ((common is null || sound is null) && chunks.Next())
        {
            if (chunks.Id == ChunkId.Comm)
            {
                common ??= AiffCommonChunk.Parse(file, chunks.Offset, chunks.Size, isAifc);
            }
            else if (chunks.Id == ChunkId.Ssnd)
            {
                sound ??= (chunks.Offset, chunks.Size);
            }
        }

        if (common is not AiffCommonChunk form)
        {
            throw file.Fault("has a damaged header (no 'COMM' chunk); export it again");
        }

        if (sound is not (long soundOffset, long soundSize))
        {
            throw file.Fault("holds no sound (no 'SSND' chunk, or it breaks off before); copy or export it again");
        }

        SampleLayout layout = form.CheckedLayout(file);
        file.ReadHeader(soundOffset, start[..SoundHeadBytes]);
        long skipped = SoundHeadBytes + BinaryPrimitives.ReadUInt32BigEndian(start);
        long offset = soundOffset + skipped;
        int frameBytes = layout.Bytes * form.Channels;
        int sampleRate = (int)form.SampleRate;
        long rest = file.Length - offset;
        long claimed = form.Frames * frameBytes;
        bool isRest = WasNeverFilledIn(soundSize) && (claimed == 0 || claimed > rest);
        long there = WasNeverFilledIn(soundSize) ? rest : Math.Min(rest, soundSize - skipped);
        long frames = PcmContent.CheckedFrames(file, there, isRest ? null : claimed, frameBytes, sampleRate);
        string container = isAifc ? "AIFC" : "AIFF";
        return new PcmContent(container, layout, form.ValidBits, form.Channels, sampleRate, offset, frames);
    }

    /// <summary>
    /// Is this the size that a writer leaves who could not come back to the header? Checked by writing into pipes: ffmpeg
    /// leaves 0, sox 14.4.2 whole frames below 0x7F000008.
    /// </summary>
    private static bool WasNeverFilledIn(long size) => size is 0 or SoundHeadBytes or uint.MaxValue or (> 0x7EFFF000 and <= 0x7F000008);
}
