using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Balance;
using LiveStems.Analysis.Delivery;
using LiveStems.Analysis.Intake;
using LiveStems.Analysis.Papers;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Papers;

public sealed class AlbumPaperTests : IDisposable
{
    private readonly TestSong song = new();
    private readonly string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");

    public AlbumPaperTests()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(song.Folder, "cache"));
        song.AddStem("Bass", Noise.White(4 * TestSong.SampleRate, 1, 0.1f), Noise.White(4 * TestSong.SampleRate, 2, 0.1f), stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -31)) with { Reason = "evens out <the notes>" }),
            Parallels = [TestSong.ParallelPath(true, -12, TestSong.Slot("saturator"))],
        });
        song.Song = song.Song with { Title = "Rope & Rain", Notes = [new Note(61.5, "client: softer \"here\"")] };
    }

    public void Dispose()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
        song.Dispose();
    }

    [Fact]
    public void EverythingFromOutsideIsEscapedAndNothingIsFetched()
    {
        string page = Page(hasNotes: true);
        Assert.Contains("Rope &amp; Rain", page, StringComparison.Ordinal);
        Assert.Contains("evens out &lt;the notes&gt;", page, StringComparison.Ordinal);
        Assert.Contains("1:02 – client: softer &quot;here&quot;", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<the notes>", page, StringComparison.Ordinal);
        Assert.All(["http:", "https:", "src=", "url(", "@import", "<script"], outside => Assert.DoesNotContain(outside, page, StringComparison.Ordinal));
    }

    [Fact]
    public void NotesStayPrivateUnlessAskedFor() => Assert.DoesNotContain("softer", Page(hasNotes: false), StringComparison.Ordinal);

    [Fact]
    public void EveryCorrectionHasItsPlaceReasonAndSettings()
    {
        IReadOnlyList<Correction> corrections = Correction.Of(song.Song, BuiltInProcessors.Catalogue);
        Assert.Equal(["Bass", "Bass, parallel Under"], corrections.Select(correction => correction.Place));
        Assert.Equal(("Compressor", "evens out <the notes>"), (corrections[0].Processor, corrections[0].Reason));
        Assert.Equal(["threshold −31 dB"], corrections[0].Settings);
    }

    [Fact]
    public void WhatChangedSinceTheLastDeliveryStandsWithItsSong()
    {
        Album before = Album();
        Album after = before with { Songs = [before.Songs[0] with { State = SongState.Approved }] };
        PaperContents contents = Contents(after, false) with { Changes = AlbumDifference.Between(before, after, BuiltInProcessors.Catalogue) };
        string page = AlbumPaper.Write(contents);
        Assert.Contains("Changed since the last delivery", page, StringComparison.Ordinal);
        Assert.Contains("state: open → approved", page, StringComparison.Ordinal);
    }

    [Fact]
    public void AFindingStandsWithItsAnswerAndAnOpenOneWithItsQuestion()
    {
        IntakeFinding offset = new(FindingRank.Look, FindingKind.DcOffset, "Rope & Rain", "Bass", null, null, 0.01, "of full scale", "carries an offset", "Please send it without.");
        Album album = IntakeAnswers.Answer(Album(), offset, "it is <meant> so");
        IntakeReport intake = new([], [offset, offset with { Kind = FindingKind.Clicks, Text = "has a click", Request = "Please look at it." }]);
        string page = AlbumPaper.Write(Contents(album, false) with { Intake = intake });
        Assert.Contains("carries an offset<br><b>Answer:</b> it is &lt;meant&gt; so", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Please send it without.", page, StringComparison.Ordinal);
        Assert.Contains("has a click<br><b>Open:</b> Please look at it.", page, StringComparison.Ordinal);
    }

    [Fact]
    public void ADeliveryThatWasMovedIsSaidAndDoesNotStopThePapers()
    {
        DeliveryLog.Add(Album(), song.Folder, Path.Combine(song.Folder, "gone", "Delivery 1"), 1, BuiltInProcessors.Catalogue);
        PaperContents contents = PaperGathering.Gather(
            Album(), song.Folder, BuiltInProcessors.Catalogue, new DateOnly(2026, 3, 1), new PaperScope(false, false, false), 1, (_, _) => { }, TestContext.Current.CancellationToken);
        string page = AlbumPaper.Write(contents);
        Assert.Contains("Delivery 1", page, StringComparison.Ordinal);
        Assert.Contains("was moved or is not to be read", page, StringComparison.Ordinal);
    }

    [Fact]
    public void AThirdSongBrighterThanTheOthersIsToldSo()
    {
        Song bright = song.Song with
        {
            Title = "Bright",
            Bus = TestSong.Chain(TestSong.Slot("equaliser", ("band1.on", 1), ("band1.shape", 2), ("band1.frequencyHz", 4000), ("band1.gainDb", 6))),
        };
        Album album = Album() with { Songs = [song.Song with { Title = "One" }, song.Song with { Title = "Two" }, bright] };
        AlbumBalance balance = Measure(album);
        Assert.Equal(0, balance.Songs[0].HighsDb - balance.Median(each => each.HighsDb), 1e-9);
        double more = balance.Songs[2].HighsDb - balance.Median(each => each.HighsDb);
        Assert.Equal(balance.Songs[2].HighsDb - balance.Songs[0].HighsDb, more, 1e-9);
        Assert.True(more > 0);
        Assert.DoesNotContain(BalanceAdvice.For(balance, balance.Songs[0], new DeliveryTargets(null, 0)), words => words.Contains("highs", StringComparison.Ordinal));
        Assert.Contains(BalanceAdvice.For(balance, balance.Songs[2], new DeliveryTargets(null, 0)), words => words.StartsWith("lows", StringComparison.Ordinal) && words.Contains("weaker", StringComparison.Ordinal));
    }

    private Album Album() => new("Slack Water Letters", "The Kelp Ledger", DeliveryTargets.Usual, [song.Song], []);

    private AlbumBalance Measure(Album album) =>
        AlbumBalance.Measure(album, song.Folder, [.. Enumerable.Range(0, album.Songs.Length)], BuiltInProcessors.Catalogue, 2, null, TestContext.Current.CancellationToken);

    private PaperContents Contents(Album album, bool hasNotes) =>
        new(album, Measure(album), BuiltInProcessors.Catalogue, new DateOnly(2026, 3, 1)) { HasNotes = hasNotes };

    private string Page(bool hasNotes) => AlbumPaper.Write(Contents(Album(), hasNotes));
}
