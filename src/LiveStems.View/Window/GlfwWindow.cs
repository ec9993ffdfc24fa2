using System.Runtime.ExceptionServices;
using System.Runtime.InteropServices;
using LiveStems.View.Controls;

namespace LiveStems.View.Window;

/// <summary>One window with an OpenGL 3.3 core context. Everything belongs to the thread that made it; there is one at a time.</summary>
internal sealed unsafe class GlfwWindow : IDisposable
{
    private const int SmallestWidth = 960;
    private const int SmallestHeight = 600;

    private readonly nint window;
    private readonly Dictionary<PointerShape, nint> cursors = [];
    private PointerShape shape = PointerShape.Arrow;

    /// <summary>Opens a window at a place in screen units, which are pixels on all systems but macOS.</summary>
    /// <exception cref="WindowException">The library, a display or OpenGL 3.3 is missing.</exception>
    public GlfwWindow(string title, in WindowPlace place)
    {
        if (!Glfw.IsThere)
        {
            throw WindowException.NoLibrary();
        }

        SoftwareOpenGl.LeaveACore();
        if (Glfw.Init() != Glfw.True)
        {
            throw WindowException.NoDisplay(Glfw.LastError());
        }

        Glfw.WindowHint(Glfw.ContextVersionMajor, 3);
        Glfw.WindowHint(Glfw.ContextVersionMinor, 3);
        Glfw.WindowHint(Glfw.OpenGlProfile, Glfw.OpenGlCoreProfile);
        Glfw.WindowHint(Glfw.OpenGlForwardCompatible, Glfw.True);
        Glfw.WindowHint(Glfw.Visible, 0);
        Glfw.WindowHint(Glfw.Maximized, place.IsMaximised ? Glfw.True : 0);
        Glfw.WindowHint(Glfw.ContextRobustness, Glfw.LoseContextOnReset);
        window = Glfw.CreateWindow(place.Width, place.Height, title, 0, 0);
        if (window == 0)
        {
            // Not every driver tells of its resets.
            Glfw.WindowHint(Glfw.ContextRobustness, 0);
            window = Glfw.CreateWindow(place.Width, place.Height, title, 0, 0);
        }

        if (window == 0)
        {
            string reason = Glfw.LastError();
            Glfw.Terminate();
            throw WindowException.NoOpenGl(reason);
        }

        Glfw.MakeContextCurrent(window);
        Glfw.SwapInterval(1);
        Glfw.SetWindowSizeLimits(window, SmallestWidth, SmallestHeight, -1, -1);
        GlfwCallbacks.Attach(window);
        if (place is { X: { } x, Y: { } y, IsMaximised: false } && IsOnAScreen(x, y))
        {
            Glfw.SetWindowPosition(window, x, y);
        }

        Glfw.ShowWindow(window);
    }

    /// <summary>Where it stands and how large it is.</summary>
    public WindowPlace Place
    {
        get
        {
            int x, y;
            Glfw.GetWindowPosition(window, &x, &y);
            return new(x, y, Size.Width, Size.Height, Glfw.GetWindowAttribute(window, Glfw.Maximized) == Glfw.True);
        }
    }

    /// <summary>True when the person wants to close it.</summary>
    public bool ShouldClose
    {
        get => Glfw.WindowShouldClose(window) == Glfw.True;
        set => Glfw.SetWindowShouldClose(window, value ? Glfw.True : 0);
    }

    /// <summary>Size of the picture in pixels.</summary>
    public (int Width, int Height) FramebufferSize
    {
        get
        {
            int width, height;
            Glfw.GetFramebufferSize(window, &width, &height);
            return (width, height);
        }
    }

    /// <summary>Size in screen units.</summary>
    public (int Width, int Height) Size
    {
        get
        {
            int width, height;
            Glfw.GetWindowSize(window, &width, &height);
            return (width, height);
        }
    }

    /// <summary>The scale that the system asks for, 1 for 100 %.</summary>
    public float ContentScale
    {
        get
        {
            float x, y;
            Glfw.GetWindowContentScale(window, &x, &y);
            return Math.Max(x, y) is > 0.5f and < 8 ? Math.Max(x, y) : 1;
        }
    }

    /// <summary>The words on the clipboard.</summary>
    public string Clipboard
    {
        get => Marshal.PtrToStringUTF8((nint)Glfw.GetClipboardString(window)) ?? string.Empty;
        set => Glfw.SetClipboardString(window, value);
    }

    /// <summary>One line that says why there can be no window here, or null when there may be.</summary>
    public static string? Obstacle()
    {
        if (!Glfw.IsThere)
        {
            return WindowException.NoLibrary().Message;
        }

        if (Glfw.Init() != Glfw.True)
        {
            return WindowException.NoDisplay(Glfw.LastError()).Message;
        }

        Glfw.Terminate();
        return null;
    }

    /// <summary>Where an OpenGL function stands, or 0.</summary>
    /// <remarks>Skia also asks for EGL's names; GLX answers those with stubs that crash.</remarks>
    public static nint ProcedureAddress(string name) =>
        name.StartsWith("egl", StringComparison.Ordinal) ? 0 : Glfw.GetProcAddress(name);

    /// <summary>Ends a wait for events; from any thread.</summary>
    public static void Wake() => Glfw.PostEmptyEvent();

    /// <summary>Hands what has happened to the receiver; waits for something to happen at most so long.</summary>
    public void TakeEvents(IWindowEvents receiver, double longestWaitSeconds)
    {
        (int Width, int Height) size = Size;
        GlfwCallbacks.PixelsPerUnit = size.Width > 0 ? (float)FramebufferSize.Width / size.Width : 1;
        GlfwCallbacks.Receiver = receiver;
        try
        {
            if (longestWaitSeconds > 0)
            {
                Glfw.WaitEventsTimeout(longestWaitSeconds);
            }
            else
            {
                Glfw.PollEvents();
            }
        }
        finally
        {
            GlfwCallbacks.Receiver = null;
        }

        if (GlfwCallbacks.TakeFailure() is { } failure)
        {
            ExceptionDispatchInfo.Throw(failure);
        }
    }

    /// <summary>Shows the picture that was drawn.</summary>
    public void Show() => Glfw.SwapBuffers(window);

    /// <summary>Sets the words on the frame.</summary>
    public void SetTitle(string title) => Glfw.SetWindowTitle(window, title);

    /// <summary>Sets the look of the pointer.</summary>
    public void SetPointer(PointerShape wanted)
    {
        if (wanted == shape)
        {
            return;
        }

        shape = wanted;
        if (!cursors.TryGetValue(wanted, out nint cursor))
        {
            cursors[wanted] = cursor = Glfw.CreateStandardCursor((int)wanted);
        }

        Glfw.SetCursor(window, cursor);
    }

    // A screen that was there the last time may be gone.
    private static bool IsOnAScreen(int x, int y)
    {
        const int Seen = 60;
        int count;
        nint* monitors = Glfw.GetMonitors(&count);
        for (int i = 0; i < count; i++)
        {
            int left, top, width, height;
            Glfw.GetMonitorWorkArea(monitors[i], &left, &top, &width, &height);
            if (x >= left - Seen && x <= left + width - Seen && y >= top && y <= top + height - Seen)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Closes the window.</summary>
    public void Dispose()
    {
        Glfw.DestroyWindow(window);
        Glfw.Terminate();
    }
}
