using System.Collections.Immutable;

namespace LiveStems.Analysis.Trouble;

/// <summary>What the search found in one stem.</summary>
/// <param name="Seconds">Length of the stem.</param>
/// <param name="SoundingShare">Share of it in which it sounds, 0 to 1.</param>
/// <param name="ListeningLevelDb">Sound pressure level at which −20 dBFS RMS is heard, for piercing.</param>
/// <param name="Findings">Findings, the largest surplus first.</param>
/// <param name="NotJudged">What could not be judged, in words; empty when everything could.</param>
public sealed record TroubleReport(
    double Seconds,
    double SoundingShare,
    double ListeningLevelDb,
    ImmutableArray<TroubleFinding> Findings,
    ImmutableArray<string> NotJudged)
{
    /// <summary>The same findings, what hurts most first.</summary>
    public IEnumerable<TroubleFinding> ByPiercing => Findings.OrderByDescending(finding => finding.PiercingSone);
}
