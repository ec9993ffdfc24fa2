namespace LiveStems.Files.Reading;

/// <summary>Opens sound files by what they hold, not by what they are called.</summary>
public static class AudioFile
{
    /// <summary>Opens a file for reading.</summary>
    /// <exception cref="AudioFileException">The file is missing, unreadable, not sound, damaged, or of a form we do not take.</exception>
    public static IAudioReader Open(string path) => throw new AudioFileException($"{path}: no reader yet");
}
