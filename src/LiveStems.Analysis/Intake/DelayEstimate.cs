namespace LiveStems.Analysis.Intake;

/// <summary>A delay between two signals.</summary>
/// <param name="Frames">By how many frames the second follows the first.</param>
/// <param name="Agreement">How much of the weight agrees with it, 0 to 1.</param>
/// <param name="IsKnown">False when there is too little in common to tell.</param>
/// <param name="Signs">For each side 1 for the same way up, −1 for upside down, 0 for unknown.</param>
internal sealed record DelayEstimate(double Frames, double Agreement, bool IsKnown, IReadOnlyList<int> Signs);
