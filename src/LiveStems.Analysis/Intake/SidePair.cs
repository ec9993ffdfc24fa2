namespace LiveStems.Analysis.Intake;

/// <summary>A figure for either side.</summary>
/// <param name="Left">Of the left side.</param>
/// <param name="Right">Of the right side.</param>
public readonly record struct SidePair(double Left, double Right);
