namespace LiveStems.Dsp.Dynamics;

/// <summary>The lengths of a <see cref="LimiterStage"/>, in samples.</summary>
/// <param name="Smoothing">Samples over which the gain moves, 2 or more.</param>
/// <param name="Hold">Samples on each side of a peak over which the gain stays down, 0 or more.</param>
/// <param name="Lingering">Samples that a reduction lingers before a release that adapts to the programme begins.</param>
/// <param name="HalfLength">Taps a side of the peak interpolator's half-way filter.</param>
/// <param name="KaiserBeta">Its window.</param>
/// <param name="IsExact">
/// True to look at sixteenths of a sample near the ceiling and allow for the band edge; false for eighths only.
/// </param>
public readonly record struct LimiterStageShape(
    int Smoothing,
    int Hold,
    int Lingering,
    int HalfLength,
    double KaiserBeta,
    bool IsExact);
