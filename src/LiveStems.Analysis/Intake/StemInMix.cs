namespace LiveStems.Analysis.Intake;

/// <summary>How one stem lies in the rough mix.</summary>
/// <param name="IsFound">False when nothing of it was found there within the range of delays that was searched.</param>
/// <param name="LateFrames">By how many frames of the song's rate the stem is later than in the mix; negative for earlier.</param>
/// <param name="Gain">Best-fit gain of either side as a ratio, negative for upside down, NaN for a silent side.</param>
/// <param name="GainDb">Best-fit gain of both sides together in dB.</param>
/// <param name="Agreement">How well its parts agree on the delay, 0 to 1.</param>
/// <param name="Sign">For either side: 1, −1 for upside down, 0 for unknown.</param>
public sealed record StemInMix(bool IsFound, double LateFrames, SidePair Gain, double GainDb, double Agreement, SidePair Sign);
