using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class LoopDragTests : IDisposable
{
    private readonly DeskAlbum album = new();
    private readonly AlbumDesk desk;
    private readonly MainScreen screen;
    private readonly ControlHost host;
    private double seconds;

    public LoopDragTests()
    {
        desk = album.Open();
        screen = new MainScreen(desk, WindowState.AtFirst);
        host = new ControlHost(screen.Root, screen, new FixedRuler(), () => seconds);
        screen.Attach(host);
        host.SetSize(1280, 800, 1);
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                album.Run(desk, 0.02);
                return desk.Transport.LengthSeconds > 0;
            },
            TimeSpan.FromSeconds(30)));
        Frame();
    }

    public void Dispose()
    {
        desk.Dispose();
        album.Dispose();
    }

    // From the lanes, and from the times above them.
    [Theory]
    [InlineData(10)]
    [InlineData(-10)]
    public void TheStretchIsInSightWhileItIsDraggedAndLoopsOnceItIsLetGo(float below)
    {
        float y = screen.Lanes.PlotBox.Y + below;
        Take(0.2, 0.6, y);
        AssertShown(0.2, 0.6);
        Assert.Null(desk.Transport.Loop);
        Move(0.1, y);
        AssertShown(0.1, 0.2);
        host.ButtonReleased(PointerButton.Left, Modifiers.None);
        Frame();
        AssertShown(0.1, 0.2);
        Assert.Equal(0.1 * desk.Transport.LengthSeconds, desk.Transport.Loop!.Value.Start, 0.01);
        Assert.Equal(0.2 * desk.Transport.LengthSeconds, desk.Transport.Loop!.Value.End, 0.01);

        // The next one takes the place of the first as soon as it is dragged.
        seconds += 2;
        Take(0.5, 0.9, y);
        AssertShown(0.5, 0.9);
        Assert.Equal(0.2 * desk.Transport.LengthSeconds, desk.Transport.Loop!.Value.End, 0.01);
    }

    [Fact]
    public void ADragThatIsBrokenOffLeavesNoStretchBehind()
    {
        host.SetSize(1280, 800, 3);
        Frame();
        Frame();
        Frame();
        Take(0.2, 0.6, screen.Lanes.PlotBox.Y + 10);
        AssertShown(0.2, 0.6);
        screen.OpenDrawer("notes");
        Frame();
        screen.Drawer.Close();
        Frame();
        Assert.Null(screen.Lanes.ShownLoop);
        Assert.Null(desk.Transport.Loop);
    }

    private void Take(double from, double to, float y)
    {
        Move(from, y);
        host.ButtonPressed(PointerButton.Left, Modifiers.None);
        Move((from + to) / 2, y);
        Move(to, y);
    }

    private void Move(double share, float y)
    {
        Box axis = screen.Lanes.AxisBox;
        host.PointerMoved((axis.X + (float)share * axis.Width) * host.Scale, y * host.Scale);
        Frame();
    }

    private void AssertShown(double from, double to)
    {
        Assert.NotNull(screen.Lanes.ShownLoop);
        Assert.Equal(from, screen.Lanes.ShownLoop.Value.From, 0.005);
        Assert.Equal(to, screen.Lanes.ShownLoop.Value.To, 0.005);
    }

    private void Frame()
    {
        seconds += 0.02;
        screen.Update(0.02);
        host.Layout();
    }
}
