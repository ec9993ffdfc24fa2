using System.Diagnostics;
using LiveStems.View.Controls;
using Silk.NET.OpenGL;
using SkiaSharp;

namespace LiveStems.View.Window;

/// <summary>
/// Runs a window: takes events, updates the screen, draws, at 60 pictures a second; a window whose graphics driver was reset
/// is made anew.
/// </summary>
internal sealed class WindowLoop : IDisposable
{
    private const double FrameSeconds = 1.0 / 60;
    private const double QuietFrameSeconds = 1.0 / 20;
    private const double AttentionSeconds = 0.5;
    private const int NoReset = 0;

    private readonly bool? usesGpuText;
    private readonly Fonts fonts = new();
    private readonly Painter painter;
    private readonly List<PlotControl> plots = [];
    private readonly Stopwatch clock = Stopwatch.StartNew();
    private IScreen? screen;
    private GlfwWindow window;
    private GL gl;
    private nint resetStatus;
    private Compositor compositor;
    private string title;
    private Theme theme;
    private double lastEventAt;
    private (int Width, int Height, float Scale) size;
    private bool isToLoseContext;

    /// <summary>Opens the window; it stays empty until it has a screen.</summary>
    /// <exception cref="WindowException">There can be no window here.</exception>
    public WindowLoop(string title, Theme theme, in WindowPlace place, bool? usesGpuText = null)
    {
        this.usesGpuText = usesGpuText;
        this.title = title;
        this.theme = theme;
        painter = new Painter(fonts);
        (window, gl, compositor) = Open(place);
    }

    /// <summary>The controls of the screen.</summary>
    public ControlHost Host { get; private set; } = null!;

    /// <summary>True once every plot has been drawn.</summary>
    public bool IsComplete => compositor.HasDrawnAll;

    /// <summary>How often the window was made anew because the graphics driver was reset.</summary>
    public int ContextsLost { get; private set; }

    /// <summary>Size of the picture in pixels.</summary>
    public (int Width, int Height) Size => (size.Width, size.Height);

    /// <summary>Where the window stands.</summary>
    public WindowPlace Place => window.Place;

    public FrameTimes Times { get; } = new();

    /// <summary>Where the time of pictures goes.</summary>
    public PictureParts Parts { get; } = new();

    /// <summary>How long the graphics processor works on a picture, since the window was made.</summary>
    public FrameTimes GpuTimes => compositor.GpuTimes;

    /// <summary>Who draws, as OpenGL calls it.</summary>
    public string Renderer => compositor.Renderer;

    /// <summary>Puts a screen into the window, in place of the one before.</summary>
    public void Show(IScreen shown)
    {
        compositor.Forget();
        plots.Clear();
        screen = shown;
        size = default;
        Host = new ControlHost(shown.Root, shown, fonts, () => clock.Elapsed.TotalSeconds) { ReadClipboard = () => window.Clipboard, WriteClipboard = words => window.Clipboard = words };
        shown.Attach(Host);
    }

    /// <summary>Behaves at the next picture as if the graphics driver had been reset: for tests.</summary>
    public void LoseContext() => isToLoseContext = true;

    /// <summary>Runs until the window is closed or the screen wants to.</summary>
    /// <param name="afterFrame">Called after each picture; true to end.</param>
    /// <returns>False when the window was closed, true when the screen wants to go or the caller ended it.</returns>
    public bool Run(Func<WindowLoop, bool> afterFrame)
    {
        IScreen now = screen ?? throw new InvalidOperationException("there is no screen to show");
        return Run(now, afterFrame);
    }

    private bool Run(IScreen screen, Func<WindowLoop, bool> afterFrame)
    {
        double next = 0;
        double last = clock.Elapsed.TotalSeconds;
        while (!window.ShouldClose && !screen.WantsToClose)
        {
            double now = clock.Elapsed.TotalSeconds;
            window.TakeEvents(Host, Math.Max(0, next - now));
            now = clock.Elapsed.TotalSeconds;
            bool hasHeard = Host.LastEventAt > lastEventAt;
            lastEventAt = Host.LastEventAt;
            if (now < next && !(hasHeard && next - now > FrameSeconds))
            {
                continue;
            }

            bool isQuiet = screen.IsQuiet && now - lastEventAt > AttentionSeconds;
            next = Math.Max(now, next + (isQuiet ? QuietFrameSeconds : FrameSeconds));
            DrawFrame(screen, now - last);
            last = now;
            if (afterFrame(this))
            {
                return true;
            }
        }

        return !window.ShouldClose;
    }

    /// <summary>The picture that is shown.</summary>
    public SKBitmap Picture() => compositor.Read();

    public void Dispose()
    {
        compositor.Dispose();
        window.Dispose();
        painter.Dispose();
        fonts.Dispose();
    }

    private void DrawFrame(IScreen screen, double seconds)
    {
        double start = clock.Elapsed.TotalSeconds;
        screen.Update(seconds);
        double updated = clock.Elapsed.TotalSeconds;
        Host.Tick();
        FollowScreen(screen);
        if (Host.Layout())
        {
            plots.Clear();
            plots.AddRange(Host.Root.Everything().Concat(Host.Overlays.SelectMany(overlay => overlay.Everything())).OfType<PlotControl>());
        }

        double laidOut = clock.Elapsed.TotalSeconds;
        bool isShown = compositor.Draw(Host, plots, size.Width, size.Height);
        if (isShown)
        {
            double drawn = clock.Elapsed.TotalSeconds;
            gl.Finish();
            double finished = clock.Elapsed.TotalSeconds;
            Times.Add(start, finished - start);
            window.Show();
            Parts.Set(PicturePart.Update, updated - start);
            Parts.Set(PicturePart.Layout, laidOut - updated);
            Parts.Set(PicturePart.Paint, compositor.PaintSeconds);
            Parts.Set(PicturePart.Plots, drawn - laidOut - compositor.PaintSeconds);
            Parts.Set(PicturePart.Finish, finished - drawn);
            Parts.Set(PicturePart.Show, clock.Elapsed.TotalSeconds - finished);
            Parts.Close();
        }

        window.SetPointer(Host.Hovered?.PointerShape ?? PointerShape.Arrow);
        if (isToLoseContext || IsLost())
        {
            isToLoseContext = false;
            ContextsLost++;
            Reopen();
        }
    }

    private void FollowScreen(IScreen screen)
    {
        (int width, int height) = window.FramebufferSize;
        (int, int, float) wanted = (Math.Max(1, width), Math.Max(1, height), Math.Clamp(window.ContentScale * screen.Scale, 0.5f, 6));
        if (wanted != size)
        {
            size = wanted;
            Host.SetSize(size.Width, size.Height, size.Scale);
        }

        if (screen.Title != title)
        {
            title = screen.Title;
            window.SetTitle(title);
        }

        if (screen.Theme != theme)
        {
            theme = screen.Theme;
            painter.Theme = theme;
            Host.MarkLayout();
        }
    }

    private (GlfwWindow Window, GL Gl, Compositor Compositor) Open(in WindowPlace place)
    {
        GlfwWindow opened = new(title, place);
        try
        {
            GL functions = GL.GetApi(GlfwWindow.ProcedureAddress);
            resetStatus = GlfwWindow.ProcedureAddress("glGetGraphicsResetStatus");
            painter.Theme = theme;
            return (opened, functions, new Compositor(functions, painter, usesGpuText));
        }
        catch
        {
            opened.Dispose();
            throw;
        }
    }

    private unsafe bool IsLost() => resetStatus != 0 && ((delegate* unmanaged<int>)resetStatus)() != NoReset;

    private void Reopen()
    {
        WindowPlace place = window.Place;
        try
        {
            compositor.Dispose();
            window.Dispose();
            (window, gl, compositor) = Open(place);
            size = default;
            Host.MarkLayout();
        }
        catch (WindowException)
        {
            throw WindowException.LostContext();
        }
    }
}
