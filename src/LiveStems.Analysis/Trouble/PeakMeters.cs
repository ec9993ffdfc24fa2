using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Simd;

namespace LiveStems.Analysis.Trouble;

/// <summary>Sample peak of a stem as it is, without what lies below 40 Hz, and without what lies above 15.5 kHz.</summary>
internal sealed class PeakMeters
{
    public const double LowCutHz = 40;
    public const double HighCutHz = 15_500;
    private const double HighestShareOfRate = 0.49;

    private readonly int sampleRate;
    private readonly StereoCascade low = new(MatchedDesign.MaximumSections);
    private readonly StereoCascade high = new(MatchedDesign.MaximumSections);
    private float[] left = [];
    private float[] right = [];
    private long frames;
    private float whole;
    private float withoutLow;
    private float withoutHigh;

    public PeakMeters(int sampleRate)
    {
        this.sampleRate = sampleRate;
        Set(low, FilterShape.HighPass, LowCutHz);
        Set(high, FilterShape.LowPass, Math.Min(HighCutHz, HighestShareOfRate * sampleRate));
    }

    public double Seconds => (double)frames / sampleRate;

    public double HeadroomOfLowCutDb => Headroom(withoutLow);

    public double HeadroomOfHighCutDb => Headroom(withoutHigh);

    public void Add(ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight)
    {
        if (left.Length < newLeft.Length)
        {
            left = new float[newLeft.Length];
            right = new float[newLeft.Length];
        }

        frames += newLeft.Length;
        whole = Magnitude.Largest(newRight, Magnitude.Largest(newLeft, whole));
        withoutLow = Filtered(low, newLeft, newRight, withoutLow);
        withoutHigh = Filtered(high, newLeft, newRight, withoutHigh);
    }

    private float Filtered(StereoCascade filter, ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight, float atLeast)
    {
        Span<float> l = left.AsSpan(0, newLeft.Length);
        Span<float> r = right.AsSpan(0, newLeft.Length);
        newLeft.CopyTo(l);
        newRight.CopyTo(r);
        filter.Process(l, r);
        filter.FlushTinyState();
        return Magnitude.Largest(r, Magnitude.Largest(l, atLeast));
    }

    private double Headroom(float without) => whole <= 0 || without <= 0 ? 0 : Math.Max(0, Decibels.FromAmplitude(whole) - Decibels.FromAmplitude(without));

    private void Set(StereoCascade cascade, FilterShape shape, double hz)
    {
        FilterBand band = new(cascade, 0);
        band.Jump(new FilterSettings(shape, hz, 0, 0.7071, 4), true, sampleRate, 1);
        cascade.Reset();
    }
}
