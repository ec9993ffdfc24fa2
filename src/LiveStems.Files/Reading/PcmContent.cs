namespace LiveStems.Files.Reading;

/// <summary>What a header tells of samples that lie plainly in a file.</summary>
/// <param name="Container">"WAV", "RF64", "BW64", "AIFF" or "AIFC".</param>
/// <param name="Layout">How a sample lies in the bytes.</param>
/// <param name="ValidBits">Bits of a sample that carry sound.</param>
/// <param name="Channels">Channels, checked.</param>
/// <param name="SampleRate">Frames per second, checked.</param>
/// <param name="Offset">Where the first sample lies.</param>
/// <param name="Frames">Whole frames, all within the file.</param>
internal sealed record PcmContent(
    string Container,
    SampleLayout Layout,
    int ValidBits,
    int Channels,
    int SampleRate,
    long Offset,
    long Frames)
{
    /// <summary>Holds the sound that a header claims against the bytes that are there.</summary>
    /// <param name="file">The file.</param>
    /// <param name="there">Bytes of sound in the file.</param>
    /// <param name="claimed">Bytes of sound by the header, or null where they are simply all that are there.</param>
    /// <param name="frameBytes">Bytes of one frame.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <returns>Whole frames; at least one.</returns>
    /// <exception cref="AudioFileException">The file breaks off, or there is nothing in it.</exception>
    internal static long CheckedFrames(SoundBytes file, long there, long? claimed, int frameBytes, int sampleRate)
    {
        there = Math.Max(0, there);
        if (claimed is long all && all - there >= frameBytes)
        {
            throw file.Fault($"breaks off after {FileFault.Seconds(there / frameBytes, sampleRate)} of "
                + $"{FileFault.Seconds(all / frameBytes, sampleRate)}; copy or export it again");
        }

        long frames = Math.Min(claimed ?? there, there) / frameBytes;
        return frames > 0 ? frames : throw file.Fault("holds no sound (0 frames); export it again");
    }
}
