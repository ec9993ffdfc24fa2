using LiveStems.Albums.Model;
using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using LiveStems.View.Screens.Drawers;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class DrawerSongsTests : DrawerTest
{
    [Fact]
    public void SongsStandInOrderWithTheirLoudnessAndAreMovedAndMarked()
    {
        string first = Desk.Song.Title;
        Type("F2");
        Assert.All(Drawer.List.Lines, line => Assert.Equal("not measured", line.Aside));
        Press("measure the songs");
        Wait(() => Desk.Songs.Of(0) is not null);
        Assert.All(Drawer.List.Lines, line => Assert.EndsWith("LUFS", line.Aside, StringComparison.Ordinal));
        Press("state: open");
        Assert.Equal(SongState.Sent, Desk.Album.Songs[0].State);
        ChooseFirst();
        Host.KeyPressed(Key.Down, Modifiers.Alt, false);
        Frame();
        Assert.Equal(first, Desk.Album.Songs[1].Title);
        Assert.Equal(first, Desk.Song.Title);
        Assert.Equal(1, Desk.Songs.Chosen);
        Assert.NotNull(Desk.Undo());
        Assert.Equal(first, Desk.Album.Songs[0].Title);
    }

    [Fact]
    public void TheChosenSongStaysChosenWhileItIsMovedAndMovedBack()
    {
        string first = Desk.Song.Title;
        Type("F2");
        ChooseFirst();
        Host.KeyPressed(Key.Down, Modifiers.Alt, false);
        Frame();
        Assert.Equal((1, 1), (Drawer.List.Chosen, Desk.Songs.Chosen));
        Host.KeyPressed(Key.Down, Modifiers.Alt, false);
        Frame();
        Assert.Equal(first, Desk.Album.Songs[1].Title);
        Host.KeyPressed(Key.Z, Modifiers.Control, false);
        Frame();
        Assert.Equal((0, 0), (Drawer.List.Chosen, Desk.Songs.Chosen));
        Assert.Equal(first, Desk.Album.Songs[Desk.Songs.Chosen].Title);
    }

    [Fact]
    public void EdgesOfTheChosenSongAreTypedAndSaidInWords()
    {
        Type("F2");
        ValueBox box = Drawer.Everything().OfType<ValueBox>().Single(each => each.Value.Name == "Fade out");
        Assert.Null(box.Value.SetText("6.5 s"));
        Assert.Equal(6.5, Desk.Song.Edges.FadeOutSeconds);
        Drawer.Everything().OfType<ValueBox>().Single(each => each.Value.Name == "Fade-out shape").Value.Next();
        Assert.Equal(FadeShape.Linear, Desk.Song.Edges.FadeOutShape);
        Frame();
        Assert.Contains("6.5 s fade out (linear)", Drawer.List.Lines[0].Detail, StringComparison.Ordinal);
        Assert.NotNull(box.Value.SetText("300 s"));
        // Only how it stands on the album has changed: the figures still hold.
        Assert.False(Desk.Songs.IsOld(0));
    }

    [Fact]
    public void AnAlbumWhoseCrossFadesDoNotFitSaysSo()
    {
        Type("F2");
        Press("measure the songs");
        Wait(() => Desk.Songs.Of(1) is not null);
        Assert.NotEmpty(Desk.Songs.Layout().Places);
        Assert.Null(Desk.Songs.Edges.Single(field => field.Name == "Cross-fade").SetText("30"));
        Frame();
        Assert.Contains("cross-fade", Drawer.Page.Explanation, StringComparison.Ordinal);
    }

    [Fact]
    public void FiguresOfASongAreOldOnceItsSoundIsAnotherAndComeBackWithIt()
    {
        Type("F2");
        Press("measure the songs");
        Wait(() => Desk.Songs.Of(0) is not null);
        Assert.Null(Desk.Stems[0].Gain.Set(-6));
        Wait(() => Desk.Songs.IsOld(0));
        Desk.Undo();
        Wait(() => !Desk.Songs.IsOld(0));
    }

    [Fact]
    public void PapersAreWrittenIntoTheFileThatWasNamed()
    {
        Type("F3");
        Enter("papers.txt");
        Assert.Contains(".html", Desk.Messages[^1].Text, StringComparison.Ordinal);
        Enter("For the client.html");
        Press("write the papers");
        string file = Path.Combine(Desk.Folder, "For the client.html");
        Wait(() => Desk.Work.Papers == file);
        Assert.Contains(Desk.Song.Title, File.ReadAllText(file), StringComparison.Ordinal);
        Assert.Contains(Drawer.List.Lines, line => line.Words == file);
    }

    [Fact]
    public void ADeliveryIsMadeByHand()
    {
        Type("8");
        Press("deliver");
        Wait(() => Desk.Work.Delivered is not null);
        Assert.Equal(2, Desk.Work.Delivered!.Files.Count);
        Assert.Contains(Drawer.List.Lines, line => line.Aside.EndsWith("LUFS", StringComparison.Ordinal));
    }
}
