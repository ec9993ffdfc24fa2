namespace LiveStems.View.Desk;

/// <summary>The curves of one signal in dBFS; −∞ for silence.</summary>
public sealed class SpectrumCurves
{
    internal SpectrumCurves(int points)
    {
        Live = Silence(points);
        Peak = Silence(points);
        LongTerm = Silence(points);
        Low = Silence(points);
        High = Silence(points);
    }

    /// <summary>Now: rises at once, falls back with a time constant.</summary>
    public float[] Live { get; }

    /// <summary>The highest since the hold was cleared, or of the last seconds.</summary>
    public float[] Peak { get; }

    /// <summary>Mean power since it was cleared.</summary>
    public float[] LongTerm { get; }

    /// <summary>A tenth of the time it was below this.</summary>
    public float[] Low { get; }

    /// <summary>A tenth of the time it was above this.</summary>
    public float[] High { get; }

    internal static float[] Silence(int points)
    {
        float[] curve = new float[points];
        Array.Fill(curve, float.NegativeInfinity);
        return curve;
    }
}
