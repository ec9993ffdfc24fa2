namespace LiveStems.Analysis.Parallels;

/// <summary>How one sound lies against another in time.</summary>
/// <param name="Samples">Samples by which the second comes later, fractions too.</param>
/// <param name="Correlation">Their correlation when aligned, −1 to +1; negative when one is turned over.</param>
/// <param name="CorrelationNow">Their correlation as they lie.</param>
public readonly record struct PathDelay(double Samples, double Correlation, double CorrelationNow);
