using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Loudness;

/// <summary>One channel of a <see cref="TruePeakMeter"/>: what the interpolator still has to see, and the peaks so far.</summary>
internal sealed class PeakChannel(PeakInterpolator interpolator)
{
    private const int FramesAtOnce = 64 * PeakInterpolator.FramesPerGroup;

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
            betweenSamples = interpolator.Largest(waiting.AsSpan(0, PeakInterpolator.History + frames), betweenSamples);
            waiting.AsSpan(frames, filled - frames).CopyTo(waiting);
            filled -= frames;
        }
    }
}
