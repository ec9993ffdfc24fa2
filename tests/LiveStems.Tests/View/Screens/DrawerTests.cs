using LiveStems.Albums.Model;
using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using LiveStems.View.Screens.Drawers;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class DrawerTests : IDisposable
{
    private readonly DeskAlbum album = new();
    private readonly AlbumDesk desk;
    private readonly MainScreen screen;
    private readonly ControlHost host;
    private double seconds;

    public DrawerTests()
    {
        desk = album.Open();
        screen = new MainScreen(desk, WindowState.AtFirst);
        host = new ControlHost(screen.Root, screen, new FixedRuler(), () => seconds);
        screen.Attach(host);
        host.SetSize(1280, 800, 1);
        Frame();
    }

    private Drawer Drawer => screen.Drawer;

    public void Dispose()
    {
        desk.Dispose();
        album.Dispose();
    }

    [Fact]
    public void EveryPageIsOpenedAndClosedByItsKeyAndFoundByItsWords()
    {
        foreach (DrawerPage page in Drawer.Pages)
        {
            Type(page.Key);
            Assert.True(Drawer.IsVisible);
            Assert.Same(page, Drawer.Page);
            Assert.Contains(desk.Commands.Search(page.Purpose), command => command.Id == $"drawer-{page.Id}");
            host.SetFocus(null);
            Type(page.Key);
            Assert.False(Drawer.IsVisible);
        }
    }

    [Fact]
    public void EscapeClosesItAndTheKeysAreCommandsAgain()
    {
        Type("7");
        host.KeyPressed(Key.Escape, Modifiers.None, false);
        Assert.False(Drawer.IsVisible);
        Type("F");
        Assert.True(desk.Monitor.BandListen);
    }

    [Fact]
    public void ANoteIsTypedGoneToAndTakenAway()
    {
        Type("7");
        Enter("too much on the chorus");
        Assert.Equal("too much on the chorus", Assert.Single(desk.Notes.OfSong).Text);
        Frame();
        host.SetFocus(Drawer.List);
        host.KeyPressed(Key.Down, Modifiers.None, false);
        host.KeyPressed(Key.Enter, Modifiers.None, false);
        host.KeyPressed(Key.Delete, Modifiers.None, false);
        Assert.Empty(desk.Notes.OfSong);
        Assert.NotNull(desk.Undo());
        Assert.Single(desk.Notes.OfSong);
    }

    [Fact]
    public void ANoteAboutTheChosenStemKeepsItsTime()
    {
        desk.Select(desk.Stems[0].Place);
        Type("7");
        Enter("hum");
        Assert.Equal(0, Assert.Single(desk.Notes.OfStem(0)).AtSeconds);
    }

    [Fact]
    public void TheWordsAndTheTimeOfANoteAreChanged()
    {
        Type("7");
        Enter("too much on the chorus");
        ChooseFirst();
        Press("change");
        Assert.Equal("0:00 too much on the chorus", Entry.Text);
        Enter("1:02.5 less of it");
        Note note = Assert.Single(desk.Notes.OfSong);
        Assert.Equal("less of it", note.Text);
        Assert.Equal(62.5, note.AtSeconds);
        ChooseFirst();
        Press("change");
        Enter("anywhere");
        Assert.Null(Assert.Single(desk.Notes.OfSong).AtSeconds);
        Enter("another one");
        Assert.Equal(2, desk.Notes.OfSong.Length);
    }

    [Fact]
    public void SongsStandInOrderWithTheirLoudnessAndAreMovedAndMarked()
    {
        string first = desk.Song.Title;
        Type("F2");
        Assert.All(Drawer.List.Lines, line => Assert.Equal("not measured", line.Aside));
        Press("measure the songs");
        Wait(() => desk.Songs.Of(0) is not null);
        Assert.All(Drawer.List.Lines, line => Assert.EndsWith("LUFS", line.Aside, StringComparison.Ordinal));
        Press("state: open");
        Assert.Equal(SongState.Sent, desk.Album.Songs[0].State);
        ChooseFirst();
        host.KeyPressed(Key.Down, Modifiers.Alt, false);
        Frame();
        Assert.Equal(first, desk.Album.Songs[1].Title);
        Assert.Equal(first, desk.Song.Title);
        Assert.Equal(1, desk.Songs.Chosen);
        Assert.NotNull(desk.Undo());
        Assert.Equal(first, desk.Album.Songs[0].Title);
    }

    [Fact]
    public void EdgesOfTheChosenSongAreTypedAndSaidInWords()
    {
        Type("F2");
        ValueBox box = Drawer.Everything().OfType<ValueBox>().Single(each => each.Value.Name == "Fade out");
        Assert.Null(box.Value.SetText("6.5 s"));
        Assert.Equal(6.5, desk.Song.Edges.FadeOutSeconds);
        Drawer.Everything().OfType<ValueBox>().Single(each => each.Value.Name == "Fade-out shape").Value.Next();
        Assert.Equal(FadeShape.Linear, desk.Song.Edges.FadeOutShape);
        Frame();
        Assert.Contains("6.5 s fade out (linear)", Drawer.List.Lines[0].Detail, StringComparison.Ordinal);
        Assert.NotNull(box.Value.SetText("300 s"));
        // Only how it stands on the album has changed: the figures still hold.
        Assert.False(desk.Songs.IsOld(0));
    }

    [Fact]
    public void AnAlbumWhoseCrossFadesDoNotFitSaysSo()
    {
        Type("F2");
        Press("measure the songs");
        Wait(() => desk.Songs.Of(1) is not null);
        Assert.NotEmpty(desk.Songs.Layout().Places);
        Assert.Null(desk.Songs.Edges.Single(field => field.Name == "Cross-fade").SetText("30"));
        Frame();
        Assert.Contains("cross-fade", Drawer.Page.Explanation, StringComparison.Ordinal);
    }

    [Fact]
    public void FiguresOfASongAreOldOnceItsSoundIsAnotherAndComeBackWithIt()
    {
        Type("F2");
        Press("measure the songs");
        Wait(() => desk.Songs.Of(0) is not null);
        Assert.Null(desk.Stems[0].Gain.Set(-6));
        Wait(() => desk.Songs.IsOld(0));
        desk.Undo();
        Wait(() => !desk.Songs.IsOld(0));
    }

    [Fact]
    public void PapersAreWrittenIntoTheFileThatWasNamed()
    {
        Type("F3");
        Enter("papers.txt");
        Assert.Contains(".html", desk.Messages[^1].Text, StringComparison.Ordinal);
        Enter("For the client.html");
        Press("write the papers");
        string file = Path.Combine(desk.Folder, "For the client.html");
        Wait(() => desk.Work.Papers == file);
        Assert.Contains(desk.Song.Title, File.ReadAllText(file), StringComparison.Ordinal);
        Assert.Contains(Drawer.List.Lines, line => line.Words == file);
    }

    [Fact]
    public void WhoCoversTheChosenStemIsShownOneAfterTheOther()
    {
        Assert.NotNull(desk.Finding.ShowNextCovering());
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Finding.ShowNextCovering());
        Wait(() => desk.Finding.Masking is not null);
        IReadOnlyList<Covering> all = Covering.OfStem(desk.Finding.Masking!.Value.Corrected, desk.Stems[0].Name);
        foreach (Covering each in all)
        {
            desk.Finding.ShowNextCovering();
            Assert.Equal(each, desk.Finding.Covering);
            Assert.All(each.ByBand.Zip(each.ByBandOfAll), band => Assert.InRange(band.First, 0, band.Second + 1e-12));
        }

        desk.Finding.ShowNextCovering();
        Assert.Null(desk.Finding.Covering);
        Type("3");
        Assert.Equal(all.Select(each => each.By), Drawer.List.Lines.Skip(1).TakeWhile(line => !line.IsHeading).Select(line => line.Words));
    }

    [Fact]
    public void AVersionIsSavedComparedAndDeletedByTwoPresses()
    {
        Type("5");
        Enter("first pass");
        desk.Stems[0].Gain.Step(-2);
        Frame();
        host.SetFocus(Drawer.List);
        host.KeyPressed(Key.Down, Modifiers.None, false);
        host.KeyPressed(Key.Enter, Modifiers.None, false);
        Assert.Equal(CompareKind.Version, desk.Compare.Kind);
        host.KeyPressed(Key.Delete, Modifiers.None, false);
        Assert.Single(desk.Versions.All);
        Frame();
        Assert.Contains("for good", Drawer.Page.Explanation, StringComparison.Ordinal);
        host.KeyPressed(Key.Delete, Modifiers.None, false);
        Assert.Empty(desk.Versions.All);
    }

    [Fact]
    public void TheBlindTestDoesNotTellWhichSideIsHeard()
    {
        Type("6");
        desk.Compare.ToggleFair();
        Press("begin");
        Assert.True(desk.Compare.Blind.IsRunning);
        List<string> told = [];
        for (int i = 0; i < 5; i++)
        {
            Type(",");
            Frame();
            told.Add(string.Join('|', Drawer.List.Lines.Select(line => $"{line.Words}{line.Aside}{line.IsOn}")));
            // What the compare strip would show is hidden, and its keys are refused.
            Type("C");
            Assert.True(desk.Compare.Blind.HearsFirst);
            desk.Compare.Blind.Answer(LiveStems.Engine.Comparing.BlindAnswer.Same);
        }

        Assert.Single(told.Distinct());
        while (desk.Compare.Blind.IsRunning)
        {
            desk.Compare.Blind.Answer(LiveStems.Engine.Comparing.BlindAnswer.Same);
        }

        Frame();
        Assert.Contains(Drawer.List.Lines, line => line.Words.Contains("same", StringComparison.OrdinalIgnoreCase) || line.Words.Contains("of", StringComparison.Ordinal));
        Assert.Single(desk.Notes.OfSong);
    }

    [Fact]
    public void WhatTheSearchFindsIsListedHeardAndCorrected()
    {
        Type("2");
        Press("search the song");
        Wait(() => desk.Finding.Of(0) is not null);
        Assert.NotEmpty(Drawer.List.Lines);
        host.SetFocus(Drawer.List);
        host.KeyPressed(Key.Down, Modifiers.None, false);
        if (Drawer.List.Chosen >= 0)
        {
            Assert.NotNull(desk.Finding.Shown);
            host.KeyPressed(Key.Enter, Modifiers.None, false);
            Assert.True(desk.Monitor.BandListen);
            int before = desk.Chain.Processors.Count;
            Press("add correction");
            Assert.Equal(before + 1, desk.Chain.Processors.Count);
        }

        host.SetFocus(null);
        Type("2");
        Assert.Null(desk.Finding.Shown);
    }

    [Fact]
    public void ADeliveryIsMadeByHand()
    {
        Type("8");
        Press("deliver");
        Wait(() => desk.Work.Delivered is not null);
        Assert.Equal(2, desk.Work.Delivered!.Files.Count);
        Assert.Contains(Drawer.List.Lines, line => line.Aside.EndsWith("LUFS", StringComparison.Ordinal));
    }

    [Fact]
    public void TheEarsAreAskedForAReadingWhilePinkNoisePlays()
    {
        Type("9");
        Enter("seventy");
        Enter("70");
        Assert.False(desk.Exposure.IsCalibrated);
        Press("pink noise");
        Wait(() =>
        {
            album.Run(desk, 0.05);
            return desk.Exposure.Calibrate(70) is null;
        });
        Assert.Contains(Drawer.List.Lines, line => line.Aside.EndsWith("dB(A)", StringComparison.Ordinal));
        Assert.Equal(ExposureModel.Caution, Drawer.Page.Explanation);
    }

    [Fact]
    public void AnAlbumAmongTheFoldersIsOpenedAndAFolderIsEntered()
    {
        string? opened = null;
        AlbumsPage page = new(desk, () => [new RecentAlbum("/elsewhere", "Older Letters", DateTimeOffset.Now)], path => opened = path);
        page.Opened();
        Assert.Contains(page.Lines(), line => line.Words == "Older Letters");
        page.Entry.Accept(album.Folder);
        Assert.Equal(Path.GetFullPath(album.Folder), opened);
        Assert.NotNull(page.Entry.Accept("/nowhere/at/all"));
        page.Lines().First(line => line.Words == "Older Letters").Act!();
        Assert.Equal("/elsewhere", opened);
    }

    [Fact]
    public void ADroppedAlbumIsOpenedAndADroppedFolderIsImportedAndChecked()
    {
        screen.Drop([album.Folder]);
        Assert.Equal(album.Folder, screen.WantsAlbum);
        string song = Directory.CreateDirectory(Path.Combine(album.Folder, "..", $"Dropped {Guid.NewGuid():N}", "Ebb")).FullName;
        try
        {
            File.Copy(Path.Combine(album.Folder, desk.Song.Stems[0].File), Path.Combine(song, "Bass.wav"));
            host.FilesDropped([Path.Combine(song, "Bass.wav")]);
            Assert.Equal("check", Drawer.Page.Id);
            Wait(() => desk.Album.Songs.Length == 3 && desk.Work.Intake is not null);
            Assert.Equal("Ebb", desk.Album.Songs[2].Title);
        }
        finally
        {
            Directory.Delete(Path.GetDirectoryName(song)!, recursive: true);
        }
    }

    [Fact]
    public void NothingOverlapsInTheDrawerAtAnyPage()
    {
        foreach (DrawerPage page in Drawer.Pages)
        {
            Drawer.Open(page);
            Frame();
            Control[] parts = [.. Drawer.Children.Where(child => child is not LiveStems.View.Controls.Scroll)];
            Assert.All(parts, part => Assert.True(part.Bounds.Right <= Drawer.Bounds.Right && part.Bounds.Bottom <= Drawer.Bounds.Bottom));
            Assert.All(parts, part => Assert.DoesNotContain(parts, other => other != part && other.Bounds.Meets(part.Bounds)));
        }
    }

    private void Type(string key)
    {
        if (Enum.TryParse(key, out Key named) && key.Length > 1)
        {
            host.KeyPressed(named, Modifiers.None, false);
        }
        else
        {
            host.TextTyped(key);
        }

        Frame();
    }

    private TextEntry Entry => Drawer.Everything().OfType<TextEntry>().Single();

    private void ChooseFirst()
    {
        host.SetFocus(Drawer.List);
        host.KeyPressed(Key.Home, Modifiers.None, false);
        host.KeyPressed(Key.Down, Modifiers.None, false);
        Frame();
    }

    private void Enter(string text)
    {
        TextEntry entry = Entry;
        host.SetFocus(entry);
        entry.Start(text);
        host.KeyPressed(Key.Enter, Modifiers.None, false);
        host.SetFocus(null);
        Frame();
    }

    private void Press(string words)
    {
        int index = Drawer.Page.Buttons.ToList().FindIndex(button => button.Words() == words);
        Assert.True(index >= 0, words);
        TextButton button = Drawer.Everything().OfType<TextButton>().ElementAt(index);
        host.SetFocus(button);
        host.KeyPressed(Key.Enter, Modifiers.None, false);
        Frame();
    }

    private void Frame()
    {
        seconds += 0.2;
        screen.Update(0.2);
        host.Layout();
    }

    // Work in the background takes its time on a busy machine.
    private void Wait(Func<bool> holds)
    {
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                Frame();
                Thread.Sleep(2);
                return holds();
            },
            TimeSpan.FromSeconds(120)));
        Frame();
    }
}
