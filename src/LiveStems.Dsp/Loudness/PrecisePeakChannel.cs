namespace LiveStems.Dsp.Loudness;

/// <summary>One channel of a <see cref="PrecisePeakMeter"/>: its last samples and the highest crest so far.</summary>
/// <remarks>
/// Only where a crest can be the highest, all sixteen values are worked out. A signal band-limited to f cycles a sample
/// that nowhere passes M, and reaches it at one place, is still at least M·cos(2πf·d) at a distance of d samples (S. N.
/// Bernstein; R. P. Boas, "Entire Functions", 1954, chapter 11). Samples and the values half-way between them lie at most
/// a quarter of a sample away, and the interpolator passes up to 0.54: 0.66 of the crest is seen there. The readings are
/// the same as those of a look everywhere.
/// </remarks>
internal sealed class PrecisePeakChannel(KaiserInterpolator interpolator)
{
    // Nothing band-limited rises this much between two points of a grid sixteen times as fine.
    private const double LargestRiseBetweenPoints = 1.01;

    // 0.66, less what single precision and the interpolator's stop-band of 100 dB may take away.
    private const double LeastSeenHalfWay = 0.6;

    private const int FramesAtOnce = 512;

    // The window of a frame, and the one before it, which starts a sample earlier.
    private const int Before = KaiserInterpolator.Taps;

    private readonly float[] samples = new float[Before + FramesAtOnce];
    private readonly float[] halfWay = new float[FramesAtOnce];
    private readonly double[] window = new double[KaiserInterpolator.Taps];

    // The last value of the interval before, the sixteen of the present one, and the sample at its end.
    private readonly double[] values = new double[1 + KaiserInterpolator.Phases + 1];

    public double Peak { get; private set; }

    public void Add(ReadOnlySpan<float> added)
    {
        while (added.Length > 0)
        {
            int frames = Math.Min(added.Length, FramesAtOnce);
            added[..frames].CopyTo(samples.AsSpan(Before));
            interpolator.HalfWay(samples.AsSpan(1), halfWay, frames);
            Scan(frames);
            samples.AsSpan(frames, Before).CopyTo(samples);
            added = added[frames..];
        }
    }

    public void Reset()
    {
        Array.Clear(samples);
        Array.Clear(values);
        Peak = 0;
    }

    private void Scan(int frames)
    {
        const int First = KaiserInterpolator.Taps / 2;
        int lastLooked = -2;
        for (int n = 0; n < frames; n++)
        {
            float from = Math.Abs(samples[First + n]);
            float to = Math.Abs(samples[First + n + 1]);
            if (Math.Max(Math.Max(from, to), Math.Abs(halfWay[n])) > LeastSeenHalfWay * Peak)
            {
                if (lastLooked != n - 1)
                {
                    Interpolate(n);
                }

                Look(n + 1);
                lastLooked = n;
            }
        }
    }

    private void Look(int start)
    {
        values[0] = values[^2];
        Interpolate(start);
        values[^1] = samples[start + KaiserInterpolator.Taps / 2];
        double threshold = Peak / LargestRiseBetweenPoints;
        for (int i = 1; i < values.Length - 1; i++)
        {
            double top = Math.Abs(values[i]);
            if (top > threshold)
            {
                Peak = Math.Max(Peak, Crest(Math.Sign(values[i]) * values[i - 1], top, Math.Sign(values[i]) * values[i + 1]));
            }
        }
    }

    private void Interpolate(int start)
    {
        for (int k = 0; k < window.Length; k++)
        {
            window[k] = samples[start + k];
        }

        interpolator.Interpolate(window, values.AsSpan(1, KaiserInterpolator.Phases));
    }

    // The top of the parabola through three points, or the middle one where it is no crest.
    private static double Crest(double before, double top, double after)
    {
        double curvature = before - 2 * top + after;
        bool isCrest = top >= before && top >= after && curvature < 0;
        return isCrest ? top - (after - before) * (after - before) / (8 * curvature) : top;
    }
}
