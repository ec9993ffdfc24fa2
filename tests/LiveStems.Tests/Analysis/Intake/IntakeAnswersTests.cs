using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Intake;
using LiveStems.Processing.Catalogue;
using Xunit;

namespace LiveStems.Tests.Analysis.Intake;

public class IntakeAnswersTests
{
    private static readonly IntakeFinding Finding = new(FindingRank.Look, FindingKind.DcOffset, "Foghorn Waltz", "Bass", null, null, 0.01, "of full scale", "carries an offset", "Please send it without.");

    private static readonly Album Album = new(
        "Slack Water Letters", "The Kelp Ledger", DeliveryTargets.Usual, [new Song("Foghorn Waltz", null, null, null, [], Chain.Empty, [])], []);

    [Fact]
    public void AnAnswerIsKeptByTheAlbumAndFoundByALaterCheck()
    {
        Album answered = IntakeAnswers.Answer(Album, Finding, " the synthesiser does that ");
        Album read = AlbumFile.Parse(AlbumFile.ToBytes(answered, AlbumFile.Name, BuiltInProcessors.Catalogue), AlbumFile.Name, BuiltInProcessors.Catalogue);
        Assert.Equal("the synthesiser does that", IntakeAnswers.To(read, Finding with { Size = 0.011, Text = "carries another offset" })?.Text);
        Assert.Null(IntakeAnswers.To(read, Finding with { Stem = "Drums" }));
        Assert.Null(IntakeAnswers.To(read, Finding with { Kind = FindingKind.Clicks }));
    }

    [Fact]
    public void ASecondAnswerTakesThePlaceOfTheFirstAndAnEmptyOneTakesItBack()
    {
        Album twice = IntakeAnswers.Answer(IntakeAnswers.Answer(Album, Finding, "yes"), Finding, "no");
        Assert.Equal("no", Assert.Single(twice.Songs[0].Answers).Text);
        Assert.Empty(IntakeAnswers.Answer(twice, Finding, " ").Songs[0].Answers);
    }

    [Fact]
    public void AnAnswerIsAChangeInWords()
    {
        AlbumChange change = Assert.Single(AlbumDifference.Between(Album, IntakeAnswers.Answer(Album, Finding, "meant so"), BuiltInProcessors.Catalogue));
        Assert.Contains("Bass, dcOffset: “meant so”", change.Said, StringComparison.Ordinal);
    }
}
