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
    /// <summary>
    /// The stretch of samples a header claims, held against what the file has. Says so when the file breaks off, or when
    /// there is nothing in it.
    /// </summary>
    internal static long CheckedFrames(SoundBytes file, long offset, long? claimedBytes, int frameBytes, int sampleRate)
    {
        long there = Math.Max(0, file.Length - offset);
        if (claimedBytes is long claimed && claimed - there >= frameBytes)
        {
            throw file.Fault($"breaks off after {FileFault.Seconds(there / frameBytes, sampleRate)} of "
                + $"{FileFault.Seconds(claimed / frameBytes, sampleRate)}; copy or export it again");
        }

        long frames = Math.Min(claimedBytes ?? there, there) / frameBytes;
        return frames > 0 ? frames : throw file.Fault("holds no sound (0 frames); export it again");
    }
}
