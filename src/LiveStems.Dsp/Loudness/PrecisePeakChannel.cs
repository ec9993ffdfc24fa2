namespace LiveStems.Dsp.Loudness;

/// <summary>One channel of a <see cref="PrecisePeakMeter"/>: its last samples and the highest crest so far.</summary>
internal sealed class PrecisePeakChannel(KaiserInterpolator interpolator)
{
    // Nothing band-limited rises this much between two points of a grid sixteen times as fine.
    private const double LargestRiseBetweenPoints = 1.01;

    private const int FramesAtOnce = 512;

    private readonly double[] samples = new double[KaiserInterpolator.Taps - 1 + FramesAtOnce];

    // Two values from before, then those of the present frame: every crest has a neighbour on either side.
    private readonly double[] values = new double[2 + KaiserInterpolator.Phases];

    public double Peak { get; private set; }

    public void Add(ReadOnlySpan<float> added)
    {
        while (added.Length > 0)
        {
            int frames = Math.Min(added.Length, FramesAtOnce);
            const int Before = KaiserInterpolator.Taps - 1;
            for (int n = 0; n < frames; n++)
            {
                samples[Before + n] = added[n];
                Look(samples.AsSpan(n, KaiserInterpolator.Taps));
            }

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

    private void Look(ReadOnlySpan<double> window)
    {
        (values[0], values[1]) = (values[^2], values[^1]);
        interpolator.Interpolate(window, values.AsSpan(2));
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

    // The top of the parabola through three points, or the middle one where it is no crest.
    private static double Crest(double before, double top, double after)
    {
        double curvature = before - 2 * top + after;
        bool isCrest = top >= before && top >= after && curvature < 0;
        return isCrest ? top - (after - before) * (after - before) / (8 * curvature) : top;
    }
}
