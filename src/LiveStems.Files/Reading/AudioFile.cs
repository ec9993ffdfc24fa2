using LiveStems.Files.Native;

namespace LiveStems.Files.Reading;

/// <summary>Opens sound files by what they hold, not by what they are called.</summary>
public static class AudioFile
{
    /// <summary>
    /// Opens a file for reading: WAV, RF64, BW64, AIFF and AIFC of plain samples; with the system's libsndfile also FLAC,
    /// Ogg, CAF, W64, AU and MP3.
    /// </summary>
    /// <exception cref="AudioFileException">The file is missing, unreadable, not sound, damaged, or of a form we do not take.</exception>
    public static IAudioReader Open(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        SoundBytes file = SoundBytes.Open(path);
        try
        {
            return new InterleavedReader(Source(file));
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    private static FrameSource Source(SoundBytes file)
    {
        Span<byte> start = stackalloc byte[FileKind.StartBytes];
        start = start[..file.Read(0, start)];
        if (FileKind.IsWav(start))
        {
            return new PcmSource(file, WavHeader.Parse(file));
        }

        if (FileKind.IsAiff(start))
        {
            return new PcmSource(file, AiffHeader.Parse(file));
        }

        return FileKind.OfLibrary(start) is string kind
            ? SoundFileSource.Open(file, kind)
            : throw file.Fault(FileKind.Refusal(start));
    }
}
