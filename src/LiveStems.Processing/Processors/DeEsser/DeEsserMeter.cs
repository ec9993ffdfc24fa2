using LiveStems.Dsp;
using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Spectral;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.DeEsser;

/// <summary>
/// What the de-esser does now. The audio thread hands over gain and corner; the curve over frequency is made from them by the
/// thread that looks at it.
/// </summary>
internal sealed class DeEsserMeter
{
    private readonly PublishedCurve published = new(2);
    private readonly float[] curve = new float[ReductionFrequencies.Count];
    private int sampleRate = 48_000;
    private bool isWide;

    /// <summary>Where the curve is worked out, Hz.</summary>
    public float[] Frequencies { get; private set; } = ReductionFrequencies.UpTo(48_000);

    /// <summary>Takes what is fixed while sound runs. Control thread.</summary>
    public void Prepare(int rate, bool wide)
    {
        sampleRate = rate;
        isWide = wide;
        Frequencies = ReductionFrequencies.UpTo(rate);
    }

    /// <summary>Hands over the deepest gain of a block, dB, and the corner, Hz. Audio thread.</summary>
    public void Publish(float gainDb, double cornerHz)
    {
        published.Next[0] = gainDb;
        published.Next[1] = (float)cornerHz;
        published.Publish();
    }

    /// <summary>The gain at each frequency, dB. Reading thread.</summary>
    public ReadOnlySpan<float> CurveDb()
    {
        ReadOnlySpan<float> values = published.Latest();
        for (int i = 0; i < curve.Length; i++)
        {
            curve[i] = isWide || values[0] == 0
                ? values[0]
                : (float)DynamicHighShelf.GainDb(Frequencies[i], values[1], sampleRate, Decibels.ToPower(values[0]));
        }

        return curve;
    }
}
