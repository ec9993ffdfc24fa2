using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Journal;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.Journal;

public sealed class AlbumSessionTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public AlbumSessionTests() => AlbumFile.Save(ExampleAlbum.Album, folder.Path, PlainProcessors.Catalogue);

    public void Dispose() => folder.Dispose();

    [Fact]
    public void AStepIsSavedAndCanBeTakenBackInALaterRun()
    {
        using (AlbumSession session = Open())
        {
            session.Do(Set(session.Album, "Fog/Bass.gainDb = -2"));
            session.Do(Set(session.Album, "Fog/Bass/equaliser.band1.gainDb = -3"));
        }

        Assert.Equal("−3 dB", Get("Fog/Bass/equaliser.band1.gainDb"));
        using (AlbumSession session = Open())
        {
            Assert.Equal("Bass, equaliser, low-shelf gain: −2 → −3 dB", session.UndoWords);
            Assert.True(session.Undo());
            Assert.True(session.Undo());
            Assert.False(session.Undo());
            Assert.Equal(Spelt.Out(ExampleAlbum.Album), Spelt.Out(session.Album));
        }

        Assert.Equal("−2 dB", Get("Fog/Bass/equaliser.band1.gainDb"));
        using (AlbumSession session = Open())
        {
            Assert.Equal("Bass, gain: 0 → −2 dB", session.RedoWords);
            Assert.True(session.Redo());
            Assert.True(session.Redo());
            Assert.False(session.Redo());
        }

        Assert.Equal("−3 dB", Get("Fog/Bass/equaliser.band1.gainDb"));
    }

    [Fact]
    public void EveryStepOfADragIsSaidFromWhereItBegan()
    {
        using AlbumSession session = Open();
        Album start = session.Album;
        (string Assignment, string Words)[] steps =
        [
            ("Fog/Bass/equaliser.band1.gainDb = -3", "Bass, equaliser, low-shelf gain: −2 → −3 dB"),
            ("Fog/Bass/equaliser.band1.frequencyHz = 150", "Bass, equaliser, low-shelf frequency: 1 kHz → 150 Hz; and 1 more"),
            ("Fog/Bass/equaliser.band1.gainDb = -2", "Bass, equaliser, low-shelf frequency: 1 kHz → 150 Hz"),
            ("Fog/Bass/equaliser.mixPercent = 50", "Bass, equaliser, mix: 100 → 50 %; and 1 more"),
        ];
        foreach ((string assignment, string words) in steps)
        {
            session.Do(Set(session.Album, assignment), gesture: "edge");
            Assert.Equal(words, session.UndoWords);
            Assert.Equal(StepWords.Of(start, session.Album, PlainProcessors.Catalogue), session.UndoWords);
        }

        Assert.True(session.Undo());
        Assert.Same(start, session.Album);
    }

    [Fact]
    public void ANewStepAfterUndoForgetsWhatWasUndoneInLaterRunsToo()
    {
        using (AlbumSession session = Open())
        {
            session.Do(Set(session.Album, "Fog/Bass.gainDb = -2"));
            session.Undo();
            session.Do(Set(session.Album, "Fog/Bass.gainDb = -4"));
        }

        using AlbumSession later = Open();
        Assert.Null(later.RedoWords);
        later.Undo();
        Assert.Equal(0, later.Album.Songs[0].Stems[0].Placement.GainDb);
        Assert.False(later.Undo());
    }

    [Fact]
    public void AGestureIsOneStepInLaterRunsToo()
    {
        using (AlbumSession session = Open())
        {
            for (int i = 1; i <= 50; i++)
            {
                session.Do(Set(session.Album, $"Fog/Bass.gainDb = {-i / 10.0}"), gesture: "fader");
                Thread.Sleep(i % 10 == 0 ? 25 : 0);
            }
        }

        using AlbumSession later = Open();
        Assert.Equal("Bass, gain: 0 → −5 dB", later.UndoWords);
        Assert.Equal(-5, later.Album.Songs[0].Stems[0].Placement.GainDb);
        later.Undo();
        Assert.Equal(0, later.Album.Songs[0].Stems[0].Placement.GainDb);
    }

    [Fact]
    public void WhatWasJournalledAndNotSavedIsOfferedAndTakenIn()
    {
        Crash("Fog/Bass.gainDb = -2", "Fog/Bass.pan = 0.5");
        UnsavedChanges unsaved = AlbumSession.FindUnsaved(folder.Path, PlainProcessors.Catalogue)!;
        Assert.Equal(["Bass, gain: 0 → −2 dB", "Bass, pan: 0 → 0.5"], unsaved.Words);
        AlbumException refusal = Assert.Throws<AlbumException>(Open);
        Assert.Contains("recover", refusal.Message);
        using (AlbumSession session = AlbumSession.Open(folder.Path, PlainProcessors.Catalogue, Unsaved.TakeIn))
        {
            Assert.Equal(-2, session.Album.Songs[0].Stems[0].Placement.GainDb);
            Assert.Contains("taken in", session.Remark);
        }

        Assert.Null(AlbumSession.FindUnsaved(folder.Path, PlainProcessors.Catalogue));
        Assert.Equal("−2 dB", Get("Fog/Bass.gainDb"));
        using AlbumSession later = Open();
        later.Undo();
        later.Undo();
        Assert.Equal(Spelt.Out(ExampleAlbum.Album), Spelt.Out(later.Album));
    }

    [Fact]
    public void WhatIsLeftComesBackByUndo()
    {
        Crash("Fog/Bass.gainDb = -2", "Fog/Bass.pan = 0.5");
        using (AlbumSession session = AlbumSession.Open(folder.Path, PlainProcessors.Catalogue, Unsaved.Leave))
        {
            Assert.Equal(0, session.Album.Songs[0].Stems[0].Placement.GainDb);
        }

        using AlbumSession later = Open();
        later.Undo();
        Assert.Equal((-2, 0.5), (later.Album.Songs[0].Stems[0].Placement.GainDb, later.Album.Songs[0].Stems[0].Placement.Pan));
    }

    [Fact]
    public void UndoneChangesThatWereNotSavedAreRecoveredAsUndone()
    {
        using (AlbumSession session = Open())
        {
            session.Do(Set(session.Album, "Fog/Bass.gainDb = -2"));
        }

        byte[] saved = File.ReadAllBytes(AlbumFile.FileOf(folder.Path));
        using (AlbumSession session = Open())
        {
            session.Undo();
        }

        File.WriteAllBytes(AlbumFile.FileOf(folder.Path), saved);
        Assert.Equal(["undo Bass, gain: 0 → −2 dB"], AlbumSession.FindUnsaved(folder.Path, PlainProcessors.Catalogue)!.Words);
        using AlbumSession later = AlbumSession.Open(folder.Path, PlainProcessors.Catalogue, Unsaved.TakeIn);
        Assert.Equal(0, later.Album.Songs[0].Stems[0].Placement.GainDb);
        Assert.Equal("Bass, gain: 0 → −2 dB", later.RedoWords);
    }

    [Fact]
    public void ATornLastLineIsPassedOver()
    {
        Crash("Fog/Bass.gainDb = -2");
        string journal = folder.At(AlbumSession.JournalName);
        long whole = new FileInfo(journal).Length;
        for (long cut = 1; cut < 60; cut += 7)
        {
            byte[] bytes = File.ReadAllBytes(journal);
            File.WriteAllBytes(journal, [.. bytes, .. "{\"do\":\"Bass, pan: 0 → 1\",\"from\":77,\"removed\":\"0\",\"inserted\":\"1\""u8[..(int)cut]]);
            Assert.Equal(["Bass, gain: 0 → −2 dB"], AlbumSession.FindUnsaved(folder.Path, PlainProcessors.Catalogue)!.Words);
            File.WriteAllBytes(journal, bytes);
        }

        Assert.Equal(whole, new FileInfo(journal).Length);
    }

    [Fact]
    public void AnAlbumChangedBySomethingElseKeepsItsOldJournalAside()
    {
        using (AlbumSession session = Open())
        {
            session.Do(Set(session.Album, "Fog/Bass.gainDb = -2"));
        }

        AlbumFile.Save(Set(ExampleAlbum.Album, "title = Elsewhere"), folder.Path, PlainProcessors.Catalogue);
        using AlbumSession later = Open();
        Assert.Null(later.UndoWords);
        Assert.Contains("changed by something else", later.Remark);
        Assert.Single(Directory.GetFiles(folder.Path, "album.*.journal"));
    }

    [Fact]
    public void OnlyOneSessionAtATimeChangesAnAlbum()
    {
        using AlbumSession first = Open();
        AlbumException refusal = Assert.Throws<AlbumException>(Open);
        Assert.Contains("open in another LiveStems", refusal.Message);
        Assert.Null(AlbumSession.FindUnsaved(folder.Path, PlainProcessors.Catalogue));
    }

    [Fact]
    public void AChangeIsOnTheDiskWithinASecond()
    {
        using AlbumSession session = Open();
        session.Do(Set(session.Album, "Fog/Bass.gainDb = -2"));
        Assert.True(SpinWait.SpinUntil(
            () => File.ReadAllText(folder.At(AlbumSession.JournalName)).Contains("Bass, gain", StringComparison.Ordinal), TimeSpan.FromSeconds(30)));
        Assert.Equal("0 dB", Get("Fog/Bass.gainDb"));
    }

    [Fact]
    public void HandWrittenSpacesInTheAlbumDoNotBreakItsHistory()
    {
        using (AlbumSession session = Open())
        {
            session.Do(Set(session.Album, "Fog/Bass.gainDb = -2"));
        }

        string path = AlbumFile.FileOf(folder.Path);
        File.WriteAllText(path, "\n" + File.ReadAllText(path).Replace(": ", " :  ", StringComparison.Ordinal));
        using AlbumSession later = Open();
        Assert.Equal("Bass, gain: 0 → −2 dB", later.UndoWords);
    }

    [Fact]
    public void RandomWorkOverManyRunsIsUndoneToTheStart()
    {
        Random random = new(5);
        string[] addresses = ["Fog/Bass.gainDb", "Fog/Bass/compressor.thresholdDb", "Low/Drums.gainDb", "Fog/Drums/parallel:Crush.blendDb"];
        List<string> states = [Spelt.Out(ExampleAlbum.Album)];
        int at = 0;
        for (int run = 0; run < 8; run++)
        {
            using AlbumSession session = Open();
            Assert.Equal(states[at], Spelt.Out(session.Album));
            for (int i = 0; i < 10; i++)
            {
                int what = random.Next(4);
                if (what == 0)
                {
                    at -= session.Undo() ? 1 : 0;
                }
                else if (what == 1)
                {
                    at += session.Redo() ? 1 : 0;
                }
                else
                {
                    session.Do(Set(session.Album, $"{addresses[random.Next(addresses.Length)]} = {-random.Next(1, 400) / 10.0}"));
                    states.RemoveRange(at + 1, states.Count - at - 1);
                    states.Add(Spelt.Out(session.Album));
                    at++;
                }
            }

            Assert.Equal(states[at], Spelt.Out(session.Album));
        }

        using AlbumSession last = Open();
        while (last.Undo())
        {
            at--;
            Assert.Equal(states[at], Spelt.Out(last.Album));
        }

        Assert.Equal(0, at);
    }

    // As after a power cut: the journal has what was done, the album's file has not.
    private void Crash(params string[] assignments)
    {
        byte[] saved = File.ReadAllBytes(AlbumFile.FileOf(folder.Path));
        using (AlbumSession session = Open())
        {
            foreach (string assignment in assignments)
            {
                session.Do(Set(session.Album, assignment));
            }
        }

        File.WriteAllBytes(AlbumFile.FileOf(folder.Path), saved);
    }

    private AlbumSession Open() => AlbumSession.Open(folder.Path, PlainProcessors.Catalogue);

    private string Get(string address) => AlbumAddress.Get(AlbumFile.Load(folder.Path, PlainProcessors.Catalogue), address, PlainProcessors.Catalogue);

    private static Album Set(Album album, string assignment) => AlbumAddress.Set(album, assignment, PlainProcessors.Catalogue);
}
