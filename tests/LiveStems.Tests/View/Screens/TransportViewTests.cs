using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using SkiaSharp;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class TransportViewTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Theory]
    [InlineData("-20 dB", -20.0)]
    [InlineData("−6.5", -6.5)]
    [InlineData("NaN", null)]
    [InlineData("6 dB", null)]
    [InlineData("-20 Hz", null)]
    public void TheMonitorsLevelTakesDecibelsAndNothingElse(string typed, double? level)
    {
        using AlbumDesk desk = album.Open();
        TransportView view = new(desk);
        IValueModel model = view.Everything().OfType<ValueBox>().Single().Value;
        double before = desk.Monitor.Settings.LevelDb;
        string? fault = model.SetText(typed);
        Assert.Equal(level is null, fault is not null);
        Assert.Equal(level ?? before, desk.Monitor.Settings.LevelDb);
    }

    [Fact]
    public void ADoublePressOnTheMonitorsLevelDoesNotTurnItUp()
    {
        using AlbumDesk desk = album.Open();
        TransportView view = new(desk);
        IValueModel model = view.Everything().OfType<ValueBox>().Single().Value;
        Assert.Null(model.SetText("-30 dB"));
        model.Reset();
        Assert.Equal(-30, desk.Monitor.Settings.LevelDb);
    }

    // The place in the song is 0:00 before and after, so only the length can bring the picture up to date.
    [Fact]
    public void TheLengthIsDrawnAnewWhenItBecomesKnown()
    {
        using AlbumDesk desk = album.Open();
        TransportView view = new(desk);
        ControlHost host = new(view, new TestHost(Stack.Row()), new FixedRuler(), () => 0);
        host.SetSize(500, 30, 1);
        host.Layout();
        using SKBitmap bitmap = new(500, 30);
        using SKCanvas canvas = new(bitmap);
        using Fonts fonts = new();
        using Painter painter = new(fonts) { Canvas = canvas };
        Assert.Equal(0, desk.Transport.LengthSeconds);
        host.Draw(painter, new Box(0, 0, 500, 30));
        host.Dirty.Clear();
        view.Update();
        Assert.Empty(host.Dirty.Boxes);

        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                album.Run(desk, 0.02);
                return desk.Transport.LengthSeconds > 0;
            },
            TimeSpan.FromSeconds(30)));
        host.Dirty.Clear();
        view.Update();
        Assert.NotEmpty(host.Dirty.Boxes);
    }
}
