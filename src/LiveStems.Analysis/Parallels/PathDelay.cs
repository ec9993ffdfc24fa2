namespace LiveStems.Analysis.Parallels;

/// <summary>How one sound lies against another in time.</summary>
/// <param name="Samples">Samples by which the second comes later, fractions too.</param>
/// <param name="Correlation">Their correlation when aligned, −1 to +1; negative when one is turned over.</param>
/// <param name="CorrelationNow">Their correlation as they lie.</param>
public readonly record struct PathDelay(double Samples, double Correlation, double CorrelationNow)
{
    // A tenth of a sample costs less than 0.1 dB at 20 kHz between equal parts: 20 log cos(π · 20/48 · 0.1).
    private const double InTimeSamples = 0.1;

    /// <summary>True when so little lies between them that nobody need care.</summary>
    public bool IsInTime => Math.Abs(Samples) < InTimeSamples;
}
