namespace LiveStems.Files.Reading;

/// <summary>What a sound file says about itself.</summary>
/// <param name="Path">Path the file was opened by.</param>
/// <param name="Container">"WAV", "RF64", "BW64", "AIFF", "AIFC", "FLAC", ….</param>
/// <param name="Encoding">How samples are stored.</param>
/// <param name="BitsPerSample">Valid bits of a sample (24 in a 32-bit container counts 24); 0 where the coding has none (lossy ones).</param>
/// <param name="Channels">1 or 2.</param>
/// <param name="SampleRate">Frames per second, 8 000 to 384 000.</param>
/// <param name="Frames">Frames in the file.</param>
public sealed record AudioFileInfo(
    string Path,
    string Container,
    SampleEncoding Encoding,
    int BitsPerSample,
    int Channels,
    int SampleRate,
    long Frames)
{
    /// <summary>Length in seconds.</summary>
    public double Seconds => (double)Frames / SampleRate;
}
