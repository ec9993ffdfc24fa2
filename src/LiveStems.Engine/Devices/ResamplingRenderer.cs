using LiveStems.Dsp.Resampling;

namespace LiveStems.Engine.Devices;

/// <summary>Sound of a renderer that runs at one rate, at the rate of a device.</summary>
/// <remarks>
/// The source is asked only for what the device needs, in portions of whole control steps (32 frames) where its limit allows,
/// so that every call of the device does about the same work. All memory is taken by the constructor.
/// </remarks>
public sealed class ResamplingRenderer : IAudioRenderer
{
    private const int PortionFrames = 32;

    private readonly IAudioRenderer source;
    private readonly StreamingResampler resampler;
    private readonly float[] left;
    private readonly float[] right;
    private int start;
    private int end;
    private double aheadSeconds;

    /// <summary>Designs the filter and takes all memory.</summary>
    /// <param name="source">The renderer to convert.</param>
    /// <param name="sourceRate">Its rate in hertz.</param>
    /// <param name="deviceRate">The rate wanted, in hertz.</param>
    /// <param name="maximumFrames">Most frames to ask the source for at a time.</param>
    /// <exception cref="ArgumentOutOfRangeException">A rate is not within 8 to 384 kHz, or no frames are allowed.</exception>
    public ResamplingRenderer(IAudioRenderer source, int sourceRate, int deviceRate, int maximumFrames)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(maximumFrames);
        this.source = source;
        resampler = new StreamingResampler(sourceRate, deviceRate, ResamplingPace.Even);
        left = GC.AllocateArray<float>(maximumFrames, pinned: true);
        right = GC.AllocateArray<float>(maximumFrames, pinned: true);
    }

    /// <summary>Seconds of sound that the source has rendered ahead of what the device has got; the filter needs them.</summary>
    public double AheadSeconds => Volatile.Read(ref aheadSeconds);

    /// <summary>The renderer itself where the rates are equal, else one that converts it.</summary>
    /// <inheritdoc cref="ResamplingRenderer(IAudioRenderer, int, int, int)"/>
    public static IAudioRenderer Adapt(IAudioRenderer source, int sourceRate, int deviceRate, int maximumFrames) =>
        sourceRate == deviceRate ? source : new ResamplingRenderer(source, sourceRate, deviceRate, maximumFrames);

    /// <inheritdoc/>
    public void Render(Span<float> left, Span<float> right)
    {
        int done = 0;
        while (true)
        {
            resampler.Process(
                this.left.AsSpan(start, end - start),
                this.right.AsSpan(start, end - start),
                left[done..],
                right[done..],
                out int consumed,
                out int produced);
            start += consumed;
            done += produced;
            if (done == left.Length)
            {
                break;
            }

            if (start == end)
            {
                Fetch(left.Length - done);
            }
        }

        double rendered = (double)(resampler.InputPosition + end - start) / resampler.FromRate;
        Volatile.Write(ref aheadSeconds, rendered - ((double)resampler.Position / resampler.ToRate));
    }

    /// <inheritdoc/>
    public RenderedElsewhere TakeElsewhere() => source.TakeElsewhere();

    private void Fetch(int wantedFrames)
    {
        long needed = ((long)wantedFrames * resampler.FromRate / resampler.ToRate) + 1;
        long portions = (needed + PortionFrames - 1) / PortionFrames * PortionFrames;
        int frames = (int)Math.Min(portions, left.Length);
        source.Render(left.AsSpan(0, frames), right.AsSpan(0, frames));
        start = 0;
        end = frames;
    }
}
