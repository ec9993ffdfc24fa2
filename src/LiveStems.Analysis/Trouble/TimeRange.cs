namespace LiveStems.Analysis.Trouble;

/// <summary>A stretch of a song.</summary>
/// <param name="StartSeconds">Where it begins, seconds from the start of the file.</param>
/// <param name="EndSeconds">Where it ends.</param>
public readonly record struct TimeRange(double StartSeconds, double EndSeconds)
{
    /// <summary>Its length.</summary>
    public double Seconds => EndSeconds - StartSeconds;
}
