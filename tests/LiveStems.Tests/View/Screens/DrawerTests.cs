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
