namespace LiveStems.View.Desk;

/// <summary>
/// One picture of a spectrum: levels in dB over the frequencies of <see cref="SpectrumModel.Frequencies"/>. A level is the
/// power in a band of a twelfth of an octave, mean of both sides, relative to that of a full-scale sine: pink noise is
/// level, a sine shows its level where a band is wider than the analysis is sharp (from about 200 Hz up).
/// </summary>
public sealed class SpectrumFrame
{
    internal SpectrumFrame(int points)
    {
        Input = new SpectrumCurves(points);
        Output = new SpectrumCurves(points);
        ReductionDb = new float[points];
    }

    /// <summary>Before the chain or processor.</summary>
    public SpectrumCurves Input { get; }

    /// <summary>After it.</summary>
    public SpectrumCurves Output { get; }

    /// <summary>Gain reduction per frequency in dB, 0 or below, of all processors of the chain that publish one.</summary>
    public float[] ReductionDb { get; }

    /// <summary>Counts up with every picture.</summary>
    public long Number { get; internal set; }
}

/// <summary>The curves of one signal.</summary>
public sealed class SpectrumCurves
{
    internal SpectrumCurves(int points)
    {
        Live = new float[points];
        Peak = new float[points];
        LongTerm = new float[points];
        Low = new float[points];
        High = new float[points];
    }

    /// <summary>Now.</summary>
    public float[] Live { get; }

    /// <summary>The highest since the hold was cleared, falling back slowly when that is chosen.</summary>
    public float[] Peak { get; }

    /// <summary>Mean power since the long-term curve was cleared.</summary>
    public float[] LongTerm { get; }

    /// <summary>A tenth of the time it was below this.</summary>
    public float[] Low { get; }

    /// <summary>A tenth of the time it was above this.</summary>
    public float[] High { get; }
}
