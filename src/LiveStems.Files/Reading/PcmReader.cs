namespace LiveStems.Files.Reading;

/// <summary>Reads samples that lie plainly in a file, through one buffer that is allocated when the file is opened.</summary>
internal sealed class PcmReader : IAudioReader
{
    private const int BufferBytes = 64 * 1024;

    private readonly SoundBytes file;
    private readonly PcmContent content;
    private readonly SampleDecoder decoder;
    private readonly byte[] buffer;
    private readonly int bufferFrames;
    private long firstBuffered;
    private int buffered;

    internal PcmReader(SoundBytes file, PcmContent content)
    {
        this.file = file;
        this.content = content;
        decoder = new SampleDecoder(content.Layout, content.Channels);
        bufferFrames = (int)Math.Min(BufferBytes / decoder.FrameBytes, content.Frames);
        buffer = GC.AllocateUninitializedArray<byte>(bufferFrames * decoder.FrameBytes);
        SampleEncoding encoding = content.Layout.IsFloat ? SampleEncoding.Float : SampleEncoding.Integer;
        Info = new AudioFileInfo(
            file.Path, content.Container, encoding, content.ValidBits, content.Channels, content.SampleRate, content.Frames);
    }

    /// <inheritdoc/>
    public AudioFileInfo Info { get; }

    /// <inheritdoc/>
    public long Position { get; private set; }

    /// <inheritdoc/>
    public int Read(Span<float> left, Span<float> right)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(right.Length, left.Length);
        int wanted = (int)Math.Min(left.Length, content.Frames - Position);
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
                throw file.Fault($"holds {where}, which is no sound; export it again, or cut that moment out");
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
        ArgumentOutOfRangeException.ThrowIfGreaterThan(frame, content.Frames);
        Position = frame;
    }

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();

    /// <summary>Sees to it that a frame is in the buffer and returns where.</summary>
    private int Buffered(long frame)
    {
        if (frame < firstBuffered || frame >= firstBuffered + buffered)
        {
            buffered = 0;
            int frames = (int)Math.Min(bufferFrames, content.Frames - frame);
            int bytes = frames * decoder.FrameBytes;
            int read = file.Read(content.Offset + (frame * decoder.FrameBytes), buffer.AsSpan(0, bytes));
            if (read < bytes)
            {
                throw file.Fault("broke off while it was read, after "
                    + $"{FileFault.Seconds(frame + (read / decoder.FrameBytes), Info.SampleRate)} of "
                    + $"{FileFault.Seconds(content.Frames, Info.SampleRate)}; copy or export it again");
            }

            firstBuffered = frame;
            buffered = frames;
        }

        return (int)(frame - firstBuffered);
    }
}
