using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using SkiaSharp;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class MainAreaTests : IDisposable
{
    private readonly DeskAlbum album = new();
    private readonly AlbumDesk desk;
    private readonly MainScreen screen;
    private readonly ControlHost host;

    public MainAreaTests()
    {
        desk = album.Open();
        screen = new MainScreen(desk, WindowState.AtFirst);
        host = new ControlHost(screen.Root, screen, new FixedRuler(), () => 0);
        screen.Attach(host);
    }

    public void Dispose()
    {
        desk.Dispose();
        album.Dispose();
    }

    [Theory]
    [InlineData(1280, 800, AreaShape.Wide)]
    [InlineData(1920, 1080, AreaShape.Wide)]
    [InlineData(960, 540, AreaShape.Medium)]
    [InlineData(640, 400, AreaShape.Single)]
    [InlineData(640, 360, AreaShape.Single)]
    [InlineData(427, 267, AreaShape.Single)]
    public void TheShapeFollowsTheRoom(int width, int height, object shape)
    {
        Size(width, height);
        Assert.Equal(shape, screen.Area.Shape);
    }

    [Theory]
    [InlineData(1920, 1080)]
    [InlineData(1280, 800)]
    [InlineData(1280, 480)]
    public void LanesAreAsTallAsThereIsRoomForWithinBounds(int width, int height)
    {
        Size(width, height);
        StemHead[] heads = [.. screen.Lanes.Everything().OfType<StemHead>()];
        float room = MathF.Floor(screen.Lanes.PlotBox.Height / heads.Length);
        Assert.Equal(4, heads.Length);
        Assert.All(heads, head => Assert.Equal(Math.Clamp(room, 21, 40) - 2, head.Bounds.Height));
    }

    [Theory]
    [InlineData(1280, 800)]
    [InlineData(960, 540)]
    [InlineData(640, 360)]
    public void ADrawerThatIsOpenedHasTheKeyboardAndIsInSight(int width, int height)
    {
        Size(width, height);
        screen.OpenDrawer("check");
        Assert.True(host.Focus?.IsInside(screen.Drawer));
        Frame();
        Assert.True(host.Focus?.IsInside(screen.Drawer));
        Assert.True(screen.Drawer.Bounds.Height > 100);
        Assert.Contains(screen.Drawer, screen.Root.Everything());
        screen.Drawer.Close();
        Frame();
        Assert.DoesNotContain(screen.Drawer, screen.Root.Everything());
    }

    [Fact]
    public void InASmallWindowOnePartFollowsTheOther()
    {
        Size(640, 400);
        HashSet<string> seen = [];
        for (int i = 0; i < 4; i++)
        {
            seen.Add(string.Join(',', Parts()));
            host.KeyPressed(Key.F4, Modifiers.None, false);
            Frame();
        }

        Assert.Equal(4, seen.Count);
        Assert.DoesNotContain(seen, parts => parts.Contains(',', StringComparison.Ordinal));
    }

    // Wherever edges are dragged and however small the window is, nothing may fail while it is drawn.
    [Fact]
    public void EveryPartIsDrawnAtEverySizeAndScale()
    {
        using SKBitmap bitmap = new(64, 64);
        using SKCanvas canvas = new(bitmap);
        using Fonts fonts = new();
        using Painter painter = new(fonts) { Canvas = canvas };
        desk.Select(desk.Stems[0].Place);
        desk.Monitor.ListenTo(1000);
        foreach ((int width, int height) in new[] { (1280, 800), (1920, 1080), (960, 540), (640, 360), (427, 267), (320, 200), (40, 30) })
        {
            Size(width, height);
            foreach (float share in new[] { 0f, 0.5f, 1f })
            {
                foreach (Splitter splitter in screen.Root.Everything().OfType<Splitter>())
                {
                    splitter.SetShare(share);
                }

                foreach (string page in new[] { string.Empty, "album", "notes" })
                {
                    if (page.Length > 0)
                    {
                        screen.OpenDrawer(page);
                    }

                    Frame();
                    host.Draw(painter, new Box(0, 0, width, height));
                }

                screen.ShowKeys();
                Frame();
                host.Draw(painter, new Box(0, 0, width, height));
                host.Close(host.Overlays[^1]);
                screen.Drawer.Close();
                host.KeyPressed(Key.F4, Modifiers.None, false);
            }
        }
    }

    private IEnumerable<string> Parts()
    {
        foreach (Control control in screen.Root.Everything())
        {
            if (control is LaneView or SpectrumView or ChainView or MeterPanel)
            {
                yield return control.GetType().Name;
            }
        }
    }

    private void Size(int width, int height)
    {
        host.SetSize(width, height, 1);
        Frame();
        Frame();
    }

    private void Frame()
    {
        screen.Update(0.2);
        host.Layout();
        host.Layout();
    }
}
