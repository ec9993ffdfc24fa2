using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class MainScreenTests : IDisposable
{
    private readonly DeskAlbum album = new();
    private readonly AlbumDesk desk;
    private readonly MainScreen screen;
    private readonly ControlHost host;
    private double seconds;

    public MainScreenTests()
    {
        desk = album.Open();
        screen = new MainScreen(desk, WindowState.AtFirst);
        host = new ControlHost(screen.Root, screen, new FixedRuler(), () => seconds);
        screen.Attach(host);
        host.SetSize(1280, 800, 1);
        host.Layout();
        Frame();
    }

    private Box Spectrum => screen.Spectrum.Spectrum.Bounds;

    [Fact]
    public void DraggingAcrossTheSpectrumHearsThatBand()
    {
        Drag(X(1000), X(2000));
        Assert.True(desk.Monitor.BandListen);
        Assert.Equal(1000, desk.Monitor.Band.LowHz, 1000 * 0.01);
        Assert.Equal(2000, desk.Monitor.Band.HighHz, 2000 * 0.01);
    }

    [Fact]
    public void TheBandIsMovedByItsMiddleAndResizedByItsEdge()
    {
        Drag(X(1000), X(2000));
        Drag(X(1400), X(2800));
        Assert.Equal(2000, desk.Monitor.Band.LowHz, 2000 * 0.02);
        Assert.Equal(4000, desk.Monitor.Band.HighHz, 4000 * 0.02);
        Drag(X(desk.Monitor.Band.HighHz), X(6000));
        Assert.Equal(6000, desk.Monitor.Band.HighHz, 6000 * 0.02);
        Assert.Equal(2000, desk.Monitor.Band.LowHz, 2000 * 0.02);
    }

    [Fact]
    public void TheWheelWidensTheBandAndTheRightButtonEndsIt()
    {
        Drag(X(1000), X(2000));
        double width = desk.Monitor.Settings.BandWidthOctaves;
        host.WheelTurned(0, 1);
        Assert.True(desk.Monitor.Settings.BandWidthOctaves > width);
        host.ButtonPressed(PointerButton.Right, Modifiers.None);
        host.ButtonReleased(PointerButton.Right, Modifiers.None);
        Assert.False(desk.Monitor.BandListen);
    }

    [Fact]
    public void EveryCommandStandsInTheListOfKeysOrIsFoundByItsOwnWords()
    {
        Assert.All(desk.Commands.All, command =>
        {
            Assert.NotEmpty(command.Words);
            Assert.Contains(command, desk.Commands.Search(command.Words));
        });
        Type("?");
        Assert.Single(host.Overlays);
    }

    [Fact]
    public void ASongOfAHundredStemsIsShown()
    {
        Assert.Null(desk.EditSong(song => song with { Stems = [.. Enumerable.Range(0, 100).Select(i => song.Stems[0] with { Name = $"Rope {i + 1}" })] }));
        Frame();
        Frame();
        Assert.Equal(100, desk.Stems.Count);
    }

    [Fact]
    public void ASongWithAsManyLanesOfAnotherShapeIsShownInPlaceOfTheOneTakenOut()
    {
        // Two stems and a parallel, and three stems.
        Assert.Null(desk.Edit(album => album with
        {
            Songs = album.Songs.SetItem(1, album.Songs[1] with { Stems = [.. Enumerable.Range(0, 3).Select(i => album.Songs[1].Stems[0] with { Name = $"Rope {i + 1}" })] }),
        }));
        desk.Select(LiveStems.Engine.Live.TapPlace.OfStem(1));
        Frame();
        Assert.Null(desk.Songs.Remove(0));
        Frame();
        Assert.Equal(3, desk.Stems.Count);
        desk.Undo();
        Frame();

        // The song that is shown stays shown.
        Assert.Equal((1, 3), (desk.SongIndex, desk.Stems.Count));
        desk.ShowSong(0);
        Frame();
        Assert.Equal(2, desk.Stems.Count);
    }

    [Fact]
    public void WhatIsWorkedOnStaysThatStemWhenAnotherGoesAndComesBack()
    {
        desk.Select(LiveStems.Engine.Live.TapPlace.OfStem(1));
        Assert.Null(desk.Stems[0].Remove());
        Frame();
        Assert.Equal("Lead voice", desk.SelectedStem!.Name);
        desk.Undo();
        Frame();
        Assert.Equal("Lead voice", desk.SelectedStem!.Name);
        Assert.Equal(1, desk.Selection.Stem);
    }

    [Fact]
    public void KeysReachTheDesk()
    {
        Type("C");
        Assert.True(desk.Compare.IsOn);
        Type("F");
        Assert.True(desk.Monitor.BandListen);
        host.KeyPressed(Key.Down, Modifiers.None, false);
        Assert.Equal("Bass", desk.Chain.Name);
    }

    [Fact]
    public void EverythingThatCanBeDoneByPointerIsReachedByTab()
    {
        HashSet<Control> reached = [];
        for (int i = 0; i < 400 && (host.Focus is null || reached.Add(host.Focus)); i++)
        {
            host.KeyPressed(Key.Tab, Modifiers.None, false);
        }

        Control[] all = [.. screen.Root.Everything().Where(control => control.CanFocus)];
        Assert.NotEmpty(all);
        Assert.All(all, control => Assert.Contains(control, reached));
    }

    [Fact]
    public void AValueTypedInTheChainIsUndoneWithItsWords()
    {
        desk.Select(desk.Stems[0].Place with { Slot = "compressor" });
        Frame();
        ValueBox box = screen.Root.Everything().OfType<ValueBox>().First(each => each.Value.Name == "Threshold");
        host.SetFocus(box);
        host.KeyPressed(Key.Enter, Modifiers.None, false);
        "-30 dB".ToList().ForEach(letter => host.TextTyped(letter.ToString()));
        host.KeyPressed(Key.Enter, Modifiers.None, false);
        Assert.Equal(-30, desk.Chain.Selected!.Parameter("thresholdDb")!.Value);
        Assert.NotNull(desk.UndoWords);
        host.KeyPressed(Key.Z, Modifiers.Control, false);
        Assert.Equal(-40, desk.Chain.Selected!.Parameter("thresholdDb")!.Value);
    }

    public void Dispose()
    {
        desk.Dispose();
        album.Dispose();
    }

    private float X(double hertz) => screen.Spectrum.Spectrum.X(hertz);

    private void Type(string text) => host.TextTyped(text);

    private void Frame()
    {
        seconds += 0.02;
        screen.Update(0.02);
        host.Layout();
    }

    private void Drag(float from, float to)
    {
        float y = Spectrum.Bottom - 30;
        seconds += 2;
        host.PointerMoved(from, y);
        host.ButtonPressed(PointerButton.Left, Modifiers.None);
        host.PointerMoved((from + to) / 2, y);
        host.PointerMoved(to, y);
        host.ButtonReleased(PointerButton.Left, Modifiers.None);
    }
}
