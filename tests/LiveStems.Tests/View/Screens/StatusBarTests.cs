using LiveStems.Engine.Monitor;
using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using SkiaSharp;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class StatusBarTests : IDisposable
{
    private const string Refusal = "the song bus has no parallel: choose a stem, then add one to it by its page, with the key F6";

    private readonly DeskAlbum album = new();
    private readonly AlbumDesk desk;

    public StatusBarTests()
    {
        desk = album.Open();
        desk.Monitor.Change(settings => settings with { IsDimmed = false, SafetyCeilingDbfs = MonitorSettings.LowestSafetyCeilingDbfs, Channels = MonitorChannels.Mono, IsSwapped = true });
        desk.ToggleWholeAlbum();
        desk.Transport.Play();
        album.Run(desk, 0.5);
        desk.Tell(Refusal);
    }

    public void Dispose()
    {
        desk.Dispose();
        album.Dispose();
    }

    // 1280 pixels at 300 per cent.
    [Fact]
    public void InTheNarrowestWindowRestingOnTheBarTellsWhatWasCut() => Assert.StartsWith(Refusal, TipOf(427), StringComparison.Ordinal);

    [Fact]
    public void InAWideWindowNothingIsCut() => Assert.Empty(TipOf(1280));

    private string TipOf(int units)
    {
        StatusBar bar = new(desk);
        ControlHost host = new(bar, new TestHost(Stack.Row()), new FixedRuler(), () => 0);
        host.SetSize(units, 18, 1);
        host.Layout();
        using SKBitmap bitmap = new(units, 18);
        using SKCanvas canvas = new(bitmap);
        using Fonts fonts = new();
        using Painter painter = new(fonts) { Canvas = canvas };
        host.Draw(painter, new Box(0, 0, units, 18));
        return bar.Tip;
    }
}
