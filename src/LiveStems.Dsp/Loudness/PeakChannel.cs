using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Loudness;

/// <summary>One channel of a <see cref="TruePeakMeter"/>: what the interpolator still has to see, and the peaks so far.</summary>
internal sealed class PeakChannel(PeakInterpolator interpolator)
{
    private const int FramesAtOnce = 64 * PeakInterpolator.FramesPerGroup;
    private const int FramesToPass = 4 * PeakInterpolator.FramesPerGroup;

    private readonly float[] waiting = new float[PeakInterpolator.History + FramesAtOnce];
    private int filled = PeakInterpolator.History;
    private float betweenSamples;

    public float SamplePeak { get; private set; }

    public float TruePeak => Math.Max(SamplePeak, betweenSamples);

    public void Add(ReadOnlySpan<float> samples)
    {
        SamplePeak = Magnitude.Largest(samples, SamplePeak);
        while (samples.Length > 0)
        {
            int count = Math.Min(samples.Length, waiting.Length - filled);
            samples[..count].CopyTo(waiting.AsSpan(filled));
            samples = samples[count..];
            filled += count;
            Interpolate();
        }
    }

    public void ClearPeaks() => SamplePeak = betweenSamples = 0;

    public void Reset()
    {
        Array.Clear(waiting);
        filled = PeakInterpolator.History;
        ClearPeaks();
    }

    // Whole groups only: what is left waits, so the same frames are looked at whatever blocks they came in.
    private void Interpolate()
    {
        int frames = filled - PeakInterpolator.History;
        frames -= frames % PeakInterpolator.FramesPerGroup;
        if (frames > 0)
        {
            for (int done = 0; done < frames; done += FramesToPass)
            {
                Look(waiting.AsSpan(done, PeakInterpolator.History + Math.Min(FramesToPass, frames - done)));
            }

            waiting.AsSpan(frames, filled - frames).CopyTo(waiting);
            filled -= frames;
        }
    }

    // Where even the worst signs of such samples would not reach what is known, nothing has to be worked out.
    private void Look(ReadOnlySpan<float> samples)
    {
        if (Magnitude.Largest(samples) * interpolator.LargestGain > betweenSamples)
        {
            betweenSamples = interpolator.Largest(samples, betweenSamples);
        }
    }
}
