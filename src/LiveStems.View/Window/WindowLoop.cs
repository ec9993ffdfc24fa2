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

    private readonly IScreen screen;
    private readonly bool? usesGpuText;
    private readonly Fonts fonts = new();
    private readonly Painter painter;
    private readonly List<PlotControl> plots = [];
    private readonly Stopwatch clock = Stopwatch.StartNew();
    private GlfwWindow window;
    private GL gl;
    private Compositor compositor;
    private string title;
    private Theme theme;
    private double lastEventAt;
    private (int Width, int Height, float Scale) size;

    /// <summary>Opens the window.</summary>
    /// <exception cref="WindowException">There can be no window here.</exception>
    public WindowLoop(IScreen screen, int width, int height, bool? usesGpuText = null)
    {
        this.screen = screen;
        this.usesGpuText = usesGpuText;
        painter = new Painter(fonts);
        title = screen.Title;
        theme = screen.Theme;
        Host = new ControlHost(screen.Root, screen, fonts, () => clock.Elapsed.TotalSeconds);
        screen.Attach(Host);
        (window, gl, compositor) = Open(width, height);
    }

    public ControlHost Host { get; }

    public FrameTimes Times { get; } = new();

    /// <summary>Who draws, as OpenGL calls it.</summary>
    public string Renderer => compositor.Renderer;

    /// <summary>Runs until the window is closed or the screen wants to.</summary>
    /// <param name="afterFrame">Called after each picture; true to end.</param>
    public void Run(Func<WindowLoop, bool> afterFrame)
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
            DrawFrame(now - last);
            last = now;
            if (afterFrame(this))
            {
                return;
            }
        }
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

    private void DrawFrame(double seconds)
    {
        double start = clock.Elapsed.TotalSeconds;
        screen.Update(seconds);
        Host.Tick();
        FollowScreen();
        if (Host.Layout())
        {
            plots.Clear();
            plots.AddRange(Host.Root.Everything().Concat(Host.Overlays.SelectMany(overlay => overlay.Everything())).OfType<PlotControl>());
        }

        bool isShown = compositor.Draw(Host, plots, size.Width, size.Height);
        if (isShown)
        {
            gl.Finish();
            Times.Add(start, clock.Elapsed.TotalSeconds - start);
            window.Show();
        }

        window.SetPointer(Host.Hovered?.PointerShape ?? PointerShape.Arrow);
        if (IsLost())
        {
            Reopen();
        }
    }

    private void FollowScreen()
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

    private (GlfwWindow Window, GL Gl, Compositor Compositor) Open(int width, int height)
    {
        GlfwWindow opened = new(title, width, height);
        try
        {
            GL functions = GL.GetApi(GlfwWindow.ProcedureAddress);
            painter.Theme = theme;
            return (opened, functions, new Compositor(functions, painter, usesGpuText));
        }
        catch
        {
            opened.Dispose();
            throw;
        }
    }

    private static unsafe bool IsLost()
    {
        nint status = GlfwWindow.ProcedureAddress("glGetGraphicsResetStatus");
        return status != 0 && ((delegate* unmanaged<int>)status)() != NoReset;
    }

    private void Reopen()
    {
        (int width, int height) = window.Size;
        try
        {
            compositor.Dispose();
            window.Dispose();
            (window, gl, compositor) = Open(width, height);
            size = default;
            Host.MarkLayout();
        }
        catch (WindowException)
        {
            throw WindowException.LostContext();
        }
    }
}
