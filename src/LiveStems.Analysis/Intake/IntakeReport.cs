namespace LiveStems.Analysis.Intake;

/// <summary>What the intake check found.</summary>
/// <param name="Songs">What was measured, song by song.</param>
/// <param name="Findings">Findings: what stops the work first, then in the order of songs and stems.</param>
public sealed record IntakeReport(IReadOnlyList<SongFacts> Songs, IReadOnlyList<IntakeFinding> Findings)
{
    /// <summary>True when something has to be cleared before the work begins.</summary>
    public bool HasStop => Findings.Any(finding => finding.Rank == FindingRank.Stop);

    /// <summary>Seconds of sound that were checked, all files together.</summary>
    public double SecondsOfSound => Songs.SelectMany(song => song.RoughMix is null ? song.Stems : song.Stems.Append(song.RoughMix)).Sum(file => file.Facts?.Info.Seconds ?? 0);
}
