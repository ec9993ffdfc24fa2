using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Spectral;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>
/// What the dynamic bands do now. The audio thread hands over a few numbers a band; the curve over frequency is made from them
/// by the thread that looks at it.
/// </summary>
internal sealed class EqualiserMeter
{
    private const int Shape = 0;
    private const int Frequency = 1;
    private const int Gain = 2;
    private const int Q = 3;
    private const int Added = 4;
    private const int PerBand = 5;

    private readonly PublishedCurve published = new(EqualiserParameters.Bands * PerBand);
    private readonly float[] added = new float[EqualiserParameters.Bands];
    private readonly float[] curve = new float[ReductionFrequencies.Count];

    /// <summary>Where the curve is worked out, Hz.</summary>
    public float[] Frequencies { get; private set; } = ReductionFrequencies.UpTo(48_000);

    /// <summary>Takes what depends on the sample rate. Control thread.</summary>
    public void Prepare(int sampleRate) => Frequencies = ReductionFrequencies.UpTo(sampleRate);

    /// <summary>Writes a band for the next <see cref="Publish"/>. Audio thread.</summary>
    public void Put(int band, in FilterSettings settings, double addedDb)
    {
        Span<float> values = published.Next.Slice(band * PerBand, PerBand);
        values[Shape] = (int)settings.Shape;
        values[Frequency] = (float)settings.FrequencyHz;
        values[Gain] = (float)settings.GainDb;
        values[Q] = (float)settings.Q;
        values[Added] = (float)addedDb;
    }

    /// <summary>Hands over what was put. Audio thread.</summary>
    public void Publish() => published.Publish();

    /// <summary>What each band adds, dB. Reading thread.</summary>
    public ReadOnlySpan<float> BandsDb()
    {
        ReadOnlySpan<float> values = published.Latest();
        for (int band = 0; band < added.Length; band++)
        {
            added[band] = values[band * PerBand + Added];
        }

        return added;
    }

    /// <summary>What all bands add at each frequency, dB. Reading thread.</summary>
    public ReadOnlySpan<float> CurveDb()
    {
        ReadOnlySpan<float> values = published.Latest();
        Array.Clear(curve);
        for (int band = 0; band < added.Length; band++)
        {
            ReadOnlySpan<float> of = values.Slice(band * PerBand, PerBand);
            if (of[Added] != 0)
            {
                Add(new((FilterShape)(int)of[Shape], of[Frequency], of[Gain], of[Q], 2), of[Added]);
            }
        }

        return curve;
    }

    private void Add(in FilterSettings still, float addedDb)
    {
        FilterSettings moved = still with { GainDb = still.GainDb + addedDb };
        for (int i = 0; i < curve.Length; i++)
        {
            curve[i] += (float)(AnaloguePrototype.GainDb(moved, Frequencies[i]) - AnaloguePrototype.GainDb(still, Frequencies[i]));
        }
    }
}
