namespace LiveStems.Analysis.Intake;

/// <summary>Two stems that have sound in common.</summary>
/// <param name="First">Place of the first stem.</param>
/// <param name="Second">Place of the second.</param>
/// <param name="SharedShare">Share of the weaker one's power that is coherent with the other, 0 to 1.</param>
/// <param name="LateFrames">By how many frames the second is later.</param>
/// <param name="IsInverted">True when it is upside down.</param>
public sealed record StemRelation(int First, int Second, double SharedShare, double LateFrames, bool IsInverted);
