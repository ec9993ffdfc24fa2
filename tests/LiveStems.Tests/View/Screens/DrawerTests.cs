using LiveStems.Albums.Model;
using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using LiveStems.View.Screens.Drawers;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class DrawerTests : DrawerTest
{
    [Fact]
    public void EveryPageIsOpenedAndClosedByItsKeyAndFoundByItsWords()
    {
        foreach (DrawerPage page in Drawer.Pages)
        {
            Type(page.Key);
            Assert.True(Drawer.IsVisible);
            Assert.Same(page, Drawer.Page);
            Assert.Contains(Desk.Commands.Search(page.Purpose), command => command.Id == $"drawer-{page.Id}");
            Host.SetFocus(null);
            Type(page.Key);
            Assert.False(Drawer.IsVisible);
        }
    }

    [Fact]
    public void EscapeClosesItAndTheKeysAreCommandsAgain()
    {
        Type("7");
        Host.KeyPressed(Key.Escape, Modifiers.None, false);
        Assert.False(Drawer.IsVisible);
        Type("F");
        Assert.True(Desk.Monitor.BandListen);
    }

    [Fact]
    public void TheEarsAreAskedForAReadingWhilePinkNoisePlays()
    {
        Type("9");
        Enter("seventy");
        Enter("70");
        Assert.False(Desk.Exposure.IsCalibrated);
        Press("pink noise");
        Wait(() =>
        {
            Album.Run(Desk, 0.05);
            return Desk.Exposure.Calibrate(70) is null;
        });
        Assert.Contains(Drawer.List.Lines, line => line.Aside.EndsWith("dB(A)", StringComparison.Ordinal));
        Assert.Equal(ExposureModel.Caution, Drawer.Page.Explanation);
    }

    [Fact]
    public void AnAlbumAmongTheFoldersIsOpenedAndAFolderIsEntered()
    {
        string? opened = null;
        AlbumsPage page = new(Desk, () => [new RecentAlbum("/elsewhere", "Older Letters", DateTimeOffset.Now)], path => opened = path);
        page.Opened();
        Assert.Contains(page.Lines(), line => line.Words == "Older Letters");
        page.Entry.Accept(Album.Folder);
        Assert.Equal(Path.GetFullPath(Album.Folder), opened);
        Assert.NotNull(page.Entry.Accept("/nowhere/at/all"));
        page.Lines().First(line => line.Words == "Older Letters").Act!();
        Assert.Equal("/elsewhere", opened);
    }

    [Fact]
    public void ADroppedAlbumIsOpenedAndADroppedFolderIsImportedAndChecked()
    {
        Screen.Drop([Album.Folder]);
        Assert.Equal(Album.Folder, Screen.WantsAlbum);
        string song = Directory.CreateDirectory(Path.Combine(Album.Folder, "..", $"Dropped {Guid.NewGuid():N}", "Ebb")).FullName;
        try
        {
            File.Copy(Path.Combine(Album.Folder, Desk.Song.Stems[0].File), Path.Combine(song, "Bass.wav"));
            Host.FilesDropped([Path.Combine(song, "Bass.wav")]);
            Assert.Equal("check", Drawer.Page.Id);
            Wait(() => Desk.Album.Songs.Length == 3 && Desk.Work.Intake is not null);
            Assert.Equal("Ebb", Desk.Album.Songs[2].Title);
        }
        finally
        {
            Directory.Delete(Path.GetDirectoryName(song)!, recursive: true);
        }
    }

    [Fact]
    public void OfADroppedFileOnlyTheFileComesIn()
    {
        string folder = Directory.CreateTempSubdirectory("livestems drop ").FullName;
        try
        {
            string bass = Path.Combine(Album.Folder, Desk.Song.Stems[0].File);
            Directory.CreateDirectory(Path.Combine(folder, "Ebb", "Deeper"));
            Array.ForEach(["Ebb/Claps.wav", "Ebb/Keys.wav", "Ebb/Deeper/Bass.wav"], name => File.Copy(bass, Path.Combine(folder, name)));
            File.WriteAllText(Path.Combine(folder, "notes.txt"), "loud");
            Host.FilesDropped([Path.Combine(folder, "notes.txt")]);
            Assert.Contains("notes.txt is no sound: drop sound files", Desk.Messages[^1].Text, StringComparison.Ordinal);
            Assert.False(Drawer.IsVisible);
            Assert.DoesNotContain(Desk.Jobs.All, job => job.Kind.StartsWith(WorkModel.ImportKind, StringComparison.Ordinal));

            Host.FilesDropped([Path.Combine(folder, "notes.txt"), Path.Combine(folder, "Ebb/Claps.wav")]);
            Wait(() => Desk.Album.Songs.Length == 3 && Desk.Work.Intake is not null);
            Assert.Equal("Ebb", Desk.Album.Songs[2].Title);
            Assert.Equal("Claps", Assert.Single(Desk.Album.Songs[2].Stems).Name);
            Assert.Contains(Desk.Messages, message => message.Text == "imported 1 file into Ebb");

            // Two more, one after the other: the first is not called off.
            Host.FilesDropped([Path.Combine(folder, "Ebb/Keys.wav")]);
            Host.FilesDropped([Path.Combine(folder, "Ebb/Deeper/Bass.wav")]);
            Wait(() => Desk.Album.Songs.Length == 4);
            Assert.Equal(["Claps", "Keys"], Desk.Album.Songs[2].Stems.Select(stem => stem.Name));
            Assert.Equal("Deeper", Desk.Album.Songs[3].Title);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void DeleteInTheDrawerNeverReachesTheChain()
    {
        Desk.Select(Desk.Stems[0].Place with { Slot = "compressor" });
        Assert.NotNull(Desk.Chain.Selected);
        foreach (DrawerPage page in Drawer.Pages)
        {
            Drawer.Open(page);
            Frame();
            Host.SetFocus(Drawer.List);
            Host.KeyPressed(Key.Delete, Modifiers.None, false);
            Host.KeyPressed(Key.Down, Modifiers.None, false);
            Host.KeyPressed(Key.Delete, Modifiers.None, false);
            Assert.All(Desk.Album.Songs, song => Assert.Equal(["equaliser", "compressor"], song.Stems[0].Chain.Slots.Select(slot => slot.Id)));
            // Songs, which Delete takes out of the album, come back for the next page.
            if (Desk.UndoWords is not null)
            {
                Assert.IsType<AlbumPage>(page);
                Assert.NotNull(Desk.Undo());
            }

            Desk.Select(Desk.Stems[0].Place with { Slot = "compressor" });
        }

        Assert.Null(Desk.UndoWords);
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
}
