namespace LiveStems.Files.Reading;

/// <summary>
/// A stretch of planar stereo sound that can be read forwards and sought. One thread at a time; reading allocates
/// nothing.
/// </summary>
public interface IAudioReader : IDisposable
{
    /// <summary>What is being read.</summary>
    AudioFileInfo Info { get; }

    /// <summary>Frame that the next read starts with.</summary>
    long Position { get; }

    /// <summary>
    /// Reads up to <c>left.Length</c> frames into both spans (of equal length), full scale ±1, and returns how many: fewer
    /// only at the end, then 0. A mono file puts the same samples, unscaled, on both sides.
    /// </summary>
    /// <exception cref="AudioFileException">The file breaks off, cannot be read any more, or holds NaN or infinity.</exception>
    int Read(Span<float> left, Span<float> right);

    /// <summary>Moves to a frame from 0 to the length of the file.</summary>
    void Seek(long frame);
}
