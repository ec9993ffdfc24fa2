using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using LiveStems.View.Screens.Drawers;
using SkiaSharp;
using Xunit;

namespace LiveStems.Tests.View.Screens;

/// <summary>A window of 1280×800 at every scale: whatever is in sight can be read, pressed and used.</summary>
public sealed class ScalingTests : IDisposable
{
    private const int Width = 1280;
    private const int Height = 800;
    // Two lines of a list, without their details.
    private const float TwoLinesUnits = 40;

    private readonly DeskAlbum album = new();
    private readonly AlbumDesk desk;
    private readonly MainScreen screen;
    private readonly ControlHost host;

    public ScalingTests()
    {
        desk = album.Open();
        screen = new MainScreen(desk, WindowState.AtFirst);
        host = new ControlHost(screen.Root, screen, new FixedRuler(), () => 0);
        screen.Attach(host);
    }

    public static TheoryData<int> Percents => [100, 125, 150, 175, 200, 225, 250, 275, 300];

    public void Dispose()
    {
        desk.Dispose();
        album.Dispose();
    }

    [Theory]
    [MemberData(nameof(Percents))]
    public void TheTimeAxisTakesAThirdOfTheWidthAtLeast(int percent)
    {
        Scale(percent);
        Assert.Contains(screen.Lanes, screen.Root.Everything());
        // Of the window where the lanes fill it; elsewhere of the lanes.
        float around = screen.Area.Shape == AreaShape.Medium ? screen.Lanes.Bounds.Width : screen.Root.Bounds.Width;
        Assert.True(screen.Lanes.AxisBox.Width >= around / 3, $"{screen.Lanes.AxisBox}");
        StemHead[] heads = [.. screen.Root.Everything().OfType<StemHead>()];
        Assert.All(heads, head => Assert.True(head.Bounds.Height >= 19 && head.Bounds.Bottom <= screen.Lanes.Bounds.Bottom, $"{head.Bounds}"));
        // A name of a dozen letters, solo and mute.
        Assert.All(heads, head => Assert.True(head.Children.Where(child => child.IsVisible).Select(child => child.Bounds.X).DefaultIfEmpty(head.Bounds.Right).Min() - head.Bounds.X >= 90, $"{head.Bounds}"));
        Assert.All(heads, head => Assert.True(head.Children.OfType<Button>().Where(button => button.Text is "solo" or "mute").All(button => button.IsVisible)));
    }

    [Theory]
    [MemberData(nameof(Percents))]
    public void EveryDrawerShowsTwoLinesAtLeastAndWhatCanBeDone(int percent)
    {
        Scale(percent);
        foreach (DrawerPage page in screen.Drawer.Pages)
        {
            // Of a parallel there is the most to be done.
            desk.Select(desk.Stems[1].Parallels[0].Place);
            screen.Drawer.Open(page);
            Frame();
            Box list = screen.Drawer.List.Parent!.Bounds;
            Assert.True(list.Height >= TwoLinesUnits, $"{page.Id}: {list}");
            Assert.True(list.Bottom <= screen.Drawer.Bounds.Bottom && list.Width * percent / 100 >= Width / 4, $"{page.Id}: {list}");
            Assert.Equal(page.Buttons.Count, screen.Drawer.Children.OfType<TextButton>().Count(button => button.IsVisible));
            AssertInsideAndApart($"{page.Id} at {percent} %");
        }
    }

    [Theory]
    [MemberData(nameof(Percents))]
    public void EveryButtonOfEveryPartIsInsideTheWindow(int percent)
    {
        Scale(percent);
        desk.Select(desk.Stems[0].Place with { Slot = "compressor" });
        desk.Monitor.ListenTo(1000, 1.0 / 3);
        desk.Spectrum.HoldsPeaks = true;
        for (int part = 0; part < 4; part++)
        {
            Frame();
            AssertInsideAndApart($"part {part} at {percent} %");
            host.KeyPressed(Key.F4, Modifiers.None, false);
        }
    }

    [Theory]
    [MemberData(nameof(Percents))]
    public void TheChainShowsItsProcessorsAndSomeOfTheirValues(int percent)
    {
        Scale(percent);
        desk.Select(desk.Stems[0].Place);
        for (int i = 0; i < 6; i++)
        {
            Assert.Null(desk.Chain.Add("compressor"));
        }

        Show<ChainView>();
        ChainView chain = screen.Root.Everything().OfType<ChainView>().Single();
        ProcessorLine chosen = chain.Everything().OfType<ProcessorLine>().Single(line => line.Processor.IsSelected);
        Assert.True(IsInSight(chosen), $"{chosen.Bounds} in {chain.Bounds}");
        Assert.True(chain.Everything().OfType<ValueBox>().Count(IsInSight) >= 2, $"{chain.Bounds}");
    }

    [Theory]
    [MemberData(nameof(Percents))]
    public void TheMetersKeepTheirBarsAndTheirNumbers(int percent)
    {
        Scale(percent);
        Show<MeterPanel>();
        MeterPanel meters = screen.Root.Everything().OfType<MeterPanel>().Single();
        Assert.True(meters.BarsBox.Height >= 100 && meters.BarsBox.Width >= 50, $"{meters.BarsBox}");
        Assert.True(meters.BarsBox.Bottom <= meters.Bounds.Bottom - 12 && meters.BarsBox.Right <= meters.Bounds.Right - 20, $"{meters.BarsBox} in {meters.Bounds}");
        Button reset = meters.Everything().OfType<Button>().Single(button => button.Text == "reset");
        Assert.True(IsInSight(reset) && !reset.Bounds.Meets(meters.BarsBox), $"{reset.Bounds}");
    }

    [Theory]
    [MemberData(nameof(Percents))]
    public void TheBandThatIsHeardIsSaidWhateverIsInSight(int percent)
    {
        Scale(percent);
        Assert.Empty(screen.Root.Everything().OfType<BandNotice>());
        desk.Monitor.ListenTo(1000, 1.0 / 3);
        using SKBitmap bitmap = new(Width, Height);
        using SKCanvas canvas = new(bitmap);
        canvas.Scale(percent / 100f);
        using Fonts fonts = new();
        using Painter painter = new(fonts) { Canvas = canvas };
        foreach (string page in new[] { string.Empty, "album", "notes" })
        {
            for (int part = 0; part < 4; part++)
            {
                if (page.Length > 0)
                {
                    screen.OpenDrawer(page);
                }

                Frame();
                BandNotice notice = Assert.Single(screen.Root.Everything().OfType<BandNotice>());
                Assert.True(IsInSight(notice) && notice.Bounds.Height >= 14, $"{notice.Bounds}");
                Assert.All(notice.Words, words => Assert.Contains("1.00 kHz, 1/3 octave", words, StringComparison.Ordinal));
                Assert.Contains("891 Hz to 1.12 kHz", notice.Words[0], StringComparison.Ordinal);
                Assert.True(fonts.Width(notice.Words[^1], Lettering.Small) <= notice.Bounds.Width, $"{notice.Bounds}");
                host.Draw(painter, new Box(0, 0, Width * 100f / percent, Height * 100f / percent));
                Assert.Equal(Theme.Dark[Tone.Listen], bitmap.GetPixel((int)((notice.Bounds.X + 3) * percent / 100), (int)(notice.Bounds.CentreY * percent / 100)));
                host.KeyPressed(Key.F4, Modifiers.None, false);
            }
        }

        host.SetFocus(screen.Root.Everything().OfType<BandNotice>().Single());
        host.KeyPressed(Key.Enter, Modifiers.None, false);
        Assert.False(desk.Monitor.BandListen);
        Frame();
        Assert.Empty(screen.Root.Everything().OfType<BandNotice>());
    }

    // A window is seen from its first picture on.
    [Theory]
    [MemberData(nameof(Percents))]
    public void TheFirstLayoutIsRightAlready(int percent)
    {
        host.SetSize(Width, Height, percent / 100f);
        host.Layout();
        AssertInsideAndApart($"first picture at {percent} %");
        Box area = screen.Area.Bounds;
        Box axis = screen.Lanes.AxisBox;
        Scale(percent);
        Assert.Equal((area, axis), (screen.Area.Bounds, screen.Lanes.AxisBox));
    }

    [Fact]
    public void WhereNamesOfDrawersHaveNoRoomTheyAreChosenFromAList()
    {
        Scale(300);
        TextButton drawers = screen.Area.Everything().OfType<TextButton>().Single(button => button.Tip == screen.Drawer.PagesWithKeys);
        foreach (DrawerPage page in screen.Drawer.Pages)
        {
            host.SetFocus(drawers);
            host.KeyPressed(Key.Enter, Modifiers.None, false);
            page.Name.ToList().ForEach(letter => host.TextTyped(letter.ToString()));
            host.KeyPressed(Key.Enter, Modifiers.None, false);
            Frame();
            Assert.True(screen.Drawer.IsVisible);
            Assert.Contains(page.Name, screen.Drawer.Page.Name, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void ALaneThatIsChosenByKeyComesIntoSight()
    {
        host.SetSize(Width, 420, 3);
        Frame();
        StemHead Head() => screen.Lanes.Everything().OfType<StemHead>().Last();
        Assert.False(IsInSight(Head()));
        desk.Select(desk.Stems[0].Place);
        Frame();
        desk.Select(LiveStems.Engine.Live.TapPlace.Bus);
        Frame();
        Frame();
        Assert.True(IsInSight(Head()), $"{Head().Bounds} in {screen.Lanes.Bounds}");
    }

    private void Show<T>()
        where T : Control
    {
        for (int i = 0; i < 4 && !screen.Root.Everything().OfType<T>().Any(); i++)
        {
            host.KeyPressed(Key.F4, Modifiers.None, false);
            Frame();
        }

        Frame();
    }

    // What lies in something that scrolls can be scrolled to.
    private void AssertInsideAndApart(string where)
    {
        Control[] all = [.. screen.Root.Everything().Where(each => each is Button or TextButton or TextEntry or ValueBox or BandNotice && !IsInScroll(each))];
        Assert.NotEmpty(all);
        Box window = screen.Root.Bounds;
        Assert.All(all, each => Assert.True(
            each.Bounds is { Width: > 12, Height: > 10 } && each.Bounds.X >= 0 && each.Bounds.Y >= 0 && each.Bounds.Right <= window.Right && each.Bounds.Bottom <= window.Bottom,
            $"{where}: {each.GetType().Name} '{(each as Button)?.Text}{each.Tip}' {each.Bounds}"));
        Assert.All(all, each => Assert.True(
            !all.Any(other => other != each && other.Bounds.Meets(each.Bounds)),
            $"{where}: {each.GetType().Name} '{(each as Button)?.Text}{each.Tip}' {each.Bounds} meets another"));
    }

    private static bool IsInScroll(Control control)
    {
        for (Control? around = control.Parent; around is not null; around = around.Parent)
        {
            if (around is LiveStems.View.Controls.Scroll)
            {
                return true;
            }
        }

        return false;
    }

    // Rows round to whole units.
    private static bool IsInSight(Control control)
    {
        for (Control? around = control.Parent; around is not null; around = around.Parent)
        {
            Box box = around.Bounds;
            if (control.Bounds.IsEmpty || control.Bounds.X < box.X - 1 || control.Bounds.Y < box.Y - 1 || control.Bounds.Right > box.Right + 1 || control.Bounds.Bottom > box.Bottom + 1)
            {
                return false;
            }
        }

        return true;
    }

    private void Scale(int percent)
    {
        host.SetSize(Width, Height, percent / 100f);
        Frame();
        Frame();
    }

    private void Frame()
    {
        for (int i = 0; i < 2; i++)
        {
            screen.Update(0.2);
            host.Layout();
            host.Layout();
        }
    }
}
