namespace LiveStems.Files.Writing;

/// <summary>A sound file that is being written; it appears under its name when it is complete, or not at all.</summary>
public interface ISoundWriter : IDisposable
{
    /// <summary>Frames written so far.</summary>
    long Frames { get; }

    /// <summary>Samples so far that did not fit into the file's whole numbers and were cut.</summary>
    long ClippedSamples { get; }

    /// <summary>Writes stereo frames, full scale ±1; both spans have the same length.</summary>
    /// <exception cref="AudioFileException">The disk is full or gone, or a sample is NaN or infinite.</exception>
    void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right);

    /// <summary>Finishes the file and lets it take its place.</summary>
    /// <param name="notes">What stands beside the sound; as long as what the writer was begun with.</param>
    /// <exception cref="AudioFileException">The disk is full or gone. What stood in the file's place still stands.</exception>
    void Complete(FileNotes notes);
}
