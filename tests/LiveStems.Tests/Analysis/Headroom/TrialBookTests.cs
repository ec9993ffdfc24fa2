using LiveStems.Albums.Model;
using LiveStems.Analysis.Headroom;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using Xunit;

namespace LiveStems.Tests.Analysis.Headroom;

public sealed class TrialBookTests : IDisposable
{
    private readonly TestSong song = new();

    public TrialBookTests()
    {
        for (int stem = 0; stem < 3; stem++)
        {
            song.AddStem($"Stem {stem}", new float[100], null, each => each with
            {
                Chain = TestSong.Chain(
                    TestSong.Slot("equaliser", ("band1.on", 1), ("band1.gainDb", -3)), TestSong.Slot("compressor", ("thresholdDb", -20)), TestSong.Slot("width"), TestSong.Slot("transient-shaper")),
                Parallels = [TestSong.ParallelPath(true, -12, TestSong.Slot("compressor", ("thresholdDb", -40)))],
            });
        }

        song.Song = song.Song with { SampleRate = TestSong.SampleRate, Bus = TestSong.Chain(TestSong.Slot("equaliser"), TestSong.Slot("limiter")) };
    }

    [Fact]
    public void AfterACorrectionIsTurnedOnlyStatesThatHoldItAreNew()
    {
        Song turned = Turned(song.Song);
        TrialBook book = BookOf(turned);
        HeadroomSubject[] ofStem = [.. HeadroomSubjects.Of(turned, BuiltInProcessors.Catalogue).Where(subject => subject.Stem == 1)];
        HashSet<string> before = [.. OwnTrials(song.Song).Select(trial => trial.Digest)];
        string[] added = [.. OwnTrials(turned).Select(trial => trial.Digest).Where(digest => !before.Contains(digest)).Distinct()];

        // The song as it is; with each of the others left out; the one that was turned, and the stem, put in by themselves.
        HeadroomSubject equaliser = ofStem.Single(subject => subject.Slot == "equaliser");
        HeadroomSubject whole = ofStem.Single(subject => subject.Kind == HeadroomSubjectKind.WholeStem);
        string[] expected =
        [
            book.AllIn.Digest, book.AddedIn(equaliser).Digest, book.AddedIn(whole).Digest,
            .. ofStem.Where(subject => subject != equaliser && subject != whole).Select(subject => book.LeftOut(subject).Digest),
        ];
        Assert.Equal(expected.Order(), added.Order());
    }

    [Fact]
    public void WhatIsSwitchedOffIsNotHeardWhateverItsSettings()
    {
        Song off = Change(song.Song, chain => chain with { Slots = chain.Slots.SetItem(0, chain.Slots[0] with { Bypassed = true }) });
        Song offAndTurned = Change(off, chain => chain with { Slots = chain.Slots.SetItem(0, Turned(chain.Slots[0])) });
        Assert.Equal(BookOf(off).AllIn.Digest, BookOf(offAndTurned).AllIn.Digest);
        Assert.NotEqual(BookOf(song.Song).AllIn.Digest, BookOf(off).AllIn.Digest);
        Assert.Equal(BookOf(song.Song).StemsBare, BookOf(Turned(song.Song)).StemsBare);
    }

    public void Dispose() => song.Dispose();

    private static Song Turned(Song song) => Change(song, chain => chain with { Slots = chain.Slots.SetItem(0, Turned(chain.Slots[0])) });

    private static ChainSlot Turned(ChainSlot slot) => slot with { Parameters = slot.Parameters.SetItem("band1.gainDb", -6) };

    private static Song Change(Song song, Func<Chain, Chain> change) =>
        song with { Stems = song.Stems.SetItem(1, song.Stems[1] with { Chain = change(song.Stems[1].Chain) }) };

    private IEnumerable<Trial> OwnTrials(Song state)
    {
        TrialBook book = BookOf(state);
        return HeadroomSubjects.Of(state, BuiltInProcessors.Catalogue).Where(subject => subject.Stem == 1)
            .SelectMany(subject => new[] { book.LeftOut(subject), book.AddedIn(subject) }).Prepend(book.AllOut).Prepend(book.AllIn);
    }

    private TrialBook BookOf(Song state) => new(state, HeadroomSubjects.WithoutCorrections(state), song.Folder, BuiltInProcessors.Catalogue);
}
