namespace LiveStems.Files.Reading;

/// <summary>Interleaved frames that can be fetched from any place of a file.</summary>
internal abstract class FrameSource : IDisposable
{
    /// <summary>What the file says about itself.</summary>
    internal abstract AudioFileInfo Info { get; }

    /// <summary>How a sample lies in the bytes that are fetched.</summary>
    internal abstract SampleLayout Layout { get; }

    /// <summary>Fetches whole frames from a frame on until the destination is full or the file breaks off; returns bytes.</summary>
    internal abstract int Fetch(long frame, Span<byte> destination);

    /// <inheritdoc/>
    public abstract void Dispose();
}
