using LiveStems.Analysis.Trouble;

namespace LiveStems.App.Verbs;

/// <summary>A finding as the list of a song names it.</summary>
/// <param name="Number">Place by surplus, from 1; what <c>--apply</c> takes.</param>
/// <param name="PiercingRank">Place by piercing, from 1.</param>
/// <param name="StemIndex">Place of the stem in its song.</param>
/// <param name="StemName">Name of the stem.</param>
/// <param name="Finding">What was found.</param>
internal sealed record NumberedFinding(int Number, int PiercingRank, int StemIndex, string StemName, TroubleFinding Finding);
