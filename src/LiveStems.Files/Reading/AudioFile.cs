namespace LiveStems.Files.Reading;

/// <summary>Opens sound files by what they hold, not by what they are called.</summary>
public static class AudioFile
{
    /// <summary>Opens a file for reading.</summary>
    /// <exception cref="AudioFileException">The file is missing, unreadable, not sound, damaged, or of a form we do not take.</exception>
    public static IAudioReader Open(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        SoundBytes file = SoundBytes.Open(path);
        try
        {
            return Open(file);
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    private static PcmReader Open(SoundBytes file)
    {
        Span<byte> start = stackalloc byte[12];
        start.Clear();
        file.Read(0, start);
        bool isWave = start[8..].SequenceEqual("WAVE"u8);
        return isWave && (start.StartsWith("RIFF"u8) || start.StartsWith("RF64"u8) || start.StartsWith("BW64"u8))
            ? new PcmReader(file, WavHeader.Parse(file))
            : throw file.Fault("is not a sound file of a kind that is known; export it as WAV");
    }
}
