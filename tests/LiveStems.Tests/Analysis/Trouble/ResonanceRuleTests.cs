using System.Collections.Immutable;
using LiveStems.Analysis.Trouble;
using Xunit;

namespace LiveStems.Tests.Analysis.Trouble;

/// <summary>By what resonances are told from the partials of notes.</summary>
public class ResonanceRuleTests
{
    private const int Band = 60;
    private const int Octave = Band + FineGrid.PerOctave;

    [Fact]
    public void OctaveThatComesWithTheBandCounts() =>
        Assert.Equal(7, OctaveRule.HighestDb(Band, 180, band => band == Octave ? 7 : band == Band ? 8 : -10, band => -10), 1e-9);

    [Fact]
    public void OctaveThatStandsOutAnywayIsNoneOfTheNote() =>
        Assert.True(OctaveRule.HighestDb(Band, 180, band => band == Octave ? 7 : band == Band ? 8 : -30, band => band == Octave ? 6 : -10) < 0);

    [Fact]
    public void OctaveCountsWhereNothingElseIsThereToTellBy() =>
        Assert.Equal(7, OctaveRule.HighestDb(Band, 180, band => band == Octave ? 7 : band == Band ? 8 : -10, null), 1e-9);

    [Fact]
    public void GapsAreBridgedAndRestsSayNothing()
    {
        const string Heard = "..##.##..##....###";
        const string Rests = "......rr..........";
        (int, int)[] runs = [.. BridgedRuns.Of(0, Heard.Length, [.. Rests.Select(mark => mark != 'r')], at => Heard[at] == '#', longestGap: 2)];
        Assert.Equal([(2, 10), (15, 17)], runs);
    }

    [Fact]
    public void PartialsOfOneSoundBecomeOneFindingAndARoundPeakStays()
    {
        List<TroubleFinding> kept = TogetherRule.Apply([(Finding(400, 12), false), (Finding(800, 9), false), (Finding(1900, 7), true)]);
        Assert.Equal([400.0, 1900.0], kept.Select(finding => finding.CentreHz).Order());
        Assert.Equal(Occurrence.NoteFollowing, kept.MinBy(finding => finding.CentreHz)!.Occurrence);
    }

    private static TroubleFinding Finding(double hz, double surplusDb) => new(
        TroubleKind.Resonance,
        Occurrence.EventBound,
        hz,
        0.1,
        surplusDb,
        1,
        0.3,
        [new TimeRange(3, 9)],
        0,
        new SuggestedCorrection("equaliser", ImmutableArray<KeyValuePair<string, string>>.Empty, ""));
}
