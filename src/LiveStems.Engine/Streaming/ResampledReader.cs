using LiveStems.Dsp.Resampling;
using LiveStems.Files.Reading;

namespace LiveStems.Engine.Streaming;

/// <summary>A file heard at another sample rate, seekable to the frame.</summary>
public sealed class ResampledReader : IAudioReader
{
    private const int InputFrames = 4096;

    private readonly IAudioReader source;
    private readonly StreamingResampler resampler;
    private readonly float[] inputLeft = new float[InputFrames];
    private readonly float[] inputRight = new float[InputFrames];
    private int start;
    private int end;
    private bool hasEnded;

    /// <summary>Converts a file, which it takes over and disposes of, to a rate of 8 000 to 384 000 Hz.</summary>
    public ResampledReader(IAudioReader source, int sampleRate)
    {
        this.source = source;
        resampler = new StreamingResampler(source.Info.SampleRate, sampleRate);
        Info = source.Info with { SampleRate = sampleRate, Frames = resampler.OutputFrames(source.Info.Frames) };
        Seek(0);
    }

    /// <inheritdoc/>
    public AudioFileInfo Info { get; }

    /// <inheritdoc/>
    public long Position => resampler.Position;

    /// <inheritdoc/>
    public int Read(Span<float> left, Span<float> right)
    {
        int wanted = (int)Math.Min(left.Length, Info.Frames - Position);
        int done = 0;
        while (done < wanted)
        {
            if (start == end && !hasEnded)
            {
                Refill();
            }

            resampler.Process(
                inputLeft.AsSpan(start, end - start),
                inputRight.AsSpan(start, end - start),
                left[done..wanted],
                right[done..wanted],
                out int consumed,
                out int produced);
            start += consumed;
            done += produced;
        }

        return done;
    }

    /// <inheritdoc/>
    public void Seek(long frame)
    {
        source.Seek(Math.Min(resampler.Reset(frame), source.Info.Frames));
        start = end = 0;
        hasEnded = false;
    }

    /// <inheritdoc/>
    public void Dispose() => source.Dispose();

    private void Refill()
    {
        start = 0;
        end = source.Read(inputLeft, inputRight);
        if (end == 0)
        {
            hasEnded = true;
            resampler.Finish();
        }
    }
}
