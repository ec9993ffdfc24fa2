using LiveStems.Dsp.Filters;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Monitor;

/// <summary>
/// The K-weighted energy of stereo sound (ITU-R BS.1770-5 Annex 1, equations 1 and 2 before the logarithm), in double
/// precision.
/// </summary>
/// <remarks>
/// The analogue prototypes that give the standard's Tables 1 and 2 through the bilinear transform, at any rate; it bends
/// them at other rates by at most 0.01 dB from 44.1 kHz up, and both sides of every comparison alike.
/// </remarks>
internal sealed class KWeightedEnergy
{
    private const double ShelfHz = 1681.974450955533;
    private const double ShelfQ = 0.7071752369554196;
    private const double ShelfGain = 1.584864701130855;
    private const double ShelfGainShare = 0.4996667741545416;
    private const double HighPassHz = 38.13547087602444;
    private const double HighPassQ = 0.5003270373238773;

    // The standard's numerator at 48 kHz is 1, −2, 1: larger than that of a high-pass of gain 1 by this.
    private const double HighPassGain = 1.004994899;

    private readonly StereoCascade weighting = new(2);
    private readonly StereoBuffer weighted;
    private double sum;

    public KWeightedEnergy(double sampleRate, int maximumFrames)
    {
        weighted = new(maximumFrames);
        double k = Math.Tan(Math.PI * ShelfHz / sampleRate);
        double band = Math.Pow(ShelfGain, ShelfGainShare);
        weighting.Set(0, StateVariableCoefficients.FromBilinear(ShelfGain, band * k / ShelfQ, k * k, k / ShelfQ, k * k));
        k = Math.Tan(Math.PI * HighPassHz / sampleRate);
        weighting.Set(1, StateVariableCoefficients.FromBilinear(HighPassGain, 0, 0, k / HighPassQ, k * k));
    }

    /// <summary>Adds the energy of some frames.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        Span<float> l = weighted.Left.AsSpan(0, left.Length);
        Span<float> r = weighted.Right.AsSpan(0, left.Length);
        left.CopyTo(l);
        right.CopyTo(r);
        weighting.Process(l, r);
        double total = sum;
        for (int i = 0; i < l.Length; i++)
        {
            total += (double)l[i] * l[i] + (double)r[i] * r[i];
        }

        sum = total;
    }

    /// <summary>The energy since the last call; at moments that depend on the frame count alone.</summary>
    public double Take()
    {
        double taken = sum;
        sum = 0;
        weighting.FlushTinyState();
        return taken;
    }

    /// <summary>State as if from silence.</summary>
    public void Reset()
    {
        weighting.Reset();
        sum = 0;
    }
}
