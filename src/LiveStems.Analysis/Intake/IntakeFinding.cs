namespace LiveStems.Analysis.Intake;

/// <summary>Something found in a delivery.</summary>
/// <param name="Rank">How much it matters.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Song">Title of the song.</param>
/// <param name="Stem">Name of the stem; null when it concerns the song as a whole.</param>
/// <param name="StartSeconds">When it begins, or the worst of its places; null when it has no place.</param>
/// <param name="EndSeconds">When that place ends.</param>
/// <param name="Size">How large it is; NaN when there is no figure.</param>
/// <param name="Unit">What the size counts: "dB", "samples", "runs", ….</param>
/// <param name="Text">What was found, one sentence.</param>
/// <param name="Request">What to ask the mix engineer for, a sentence that can be mailed as it stands; empty when nothing needs asking.</param>
public sealed record IntakeFinding(
    FindingRank Rank,
    FindingKind Kind,
    string Song,
    string? Stem,
    double? StartSeconds,
    double? EndSeconds,
    double Size,
    string Unit,
    string Text,
    string Request);
