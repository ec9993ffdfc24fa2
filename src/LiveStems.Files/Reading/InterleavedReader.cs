namespace LiveStems.Files.Reading;

/// <summary>Reads interleaved frames through one buffer that is allocated when the file is opened.</summary>
internal sealed class InterleavedReader : IAudioReader
{
    private const int BufferBytes = 64 * 1024;

    private readonly FrameSource source;
    private readonly SampleDecoder decoder;
    private readonly byte[] buffer;
    private readonly int bufferFrames;
    private long firstBuffered;
    private int buffered;

    internal InterleavedReader(FrameSource source)
    {
        this.source = source;
        Info = source.Info;
        decoder = new SampleDecoder(source.Layout, Info.Channels);
        bufferFrames = (int)Math.Min(BufferBytes / decoder.FrameBytes, Info.Frames);
        // Pinned: a reader lives as long as its song, and the collector would copy the buffer while music plays.
        buffer = GC.AllocateUninitializedArray<byte>(bufferFrames * decoder.FrameBytes, pinned: true);
    }

    /// <inheritdoc/>
    public AudioFileInfo Info { get; }

    /// <inheritdoc/>
    public long Position { get; private set; }

    /// <inheritdoc/>
    public int Read(Span<float> left, Span<float> right)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(right.Length, left.Length);
        int wanted = (int)Math.Min(left.Length, Info.Frames - Position);
        int done = 0;
        while (done < wanted)
        {
            int skip = Buffered(Position);
            int frames = Math.Min(wanted - done, buffered - skip);
            Span<float> toLeft = left.Slice(done, frames);
            Span<float> toRight = right.Slice(done, frames);
            if (!decoder.Decode(buffer.AsSpan(skip * decoder.FrameBytes, frames * decoder.FrameBytes), toLeft, toRight))
            {
                string where = NotFinite.First(Position, Info.SampleRate, Info.Channels, toLeft, toRight);
                throw FileFault.Of(Info.Path, $"holds {where}, which is no sound; export it again, or cut that moment out");
            }

            done += frames;
            Position += frames;
        }

        return done;
    }

    /// <inheritdoc/>
    public void Seek(long frame)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(frame);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(frame, Info.Frames);
        Position = frame;
    }

    /// <inheritdoc/>
    public void Dispose() => source.Dispose();

    /// <summary>Sees to it that a frame is in the buffer and returns where.</summary>
    private int Buffered(long frame)
    {
        if (frame < firstBuffered || frame >= firstBuffered + buffered)
        {
            buffered = 0;
            int frames = (int)Math.Min(bufferFrames, Info.Frames - frame);
            int bytes = frames * decoder.FrameBytes;
            int fetched = source.Fetch(frame, buffer.AsSpan(0, bytes));
            if (fetched < bytes)
            {
                throw FileFault.Of(Info.Path, "breaks off after "
                    + $"{FileFault.Seconds(frame + (fetched / decoder.FrameBytes), Info.SampleRate)} of "
                    + $"{FileFault.Seconds(Info.Frames, Info.SampleRate)}; copy or export it again");
            }

            firstBuffered = frame;
            buffered = frames;
        }

        return (int)(frame - firstBuffered);
    }
}
