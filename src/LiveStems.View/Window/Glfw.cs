using System.Runtime.InteropServices;

namespace LiveStems.View.Window;

/// <summary>The functions of GLFW that we call: glfw3.h 3.3.8. All belong to the thread that made the window.</summary>
internal static unsafe partial class Glfw
{
    internal const int True = 1;
    internal const int Press = 1;
    internal const int Repeat = 2;
    internal const int ContextVersionMajor = 0x00022002;
    internal const int ContextVersionMinor = 0x00022003;
    internal const int OpenGlProfile = 0x00022008;
    internal const int OpenGlCoreProfile = 0x00032001;
    internal const int OpenGlForwardCompatible = 0x00022006;
    internal const int ContextRobustness = 0x00022005;
    internal const int LoseContextOnReset = 0x00031002;
    internal const int Visible = 0x00020004;
    internal const int Maximized = 0x00020008;
    internal const int ScaleToMonitor = 0x0002200C;
    internal const int CursorNormal = 0x00034001;

    private const string Name = GlfwNames.Library;

    static Glfw() => GlfwNames.Register();

    internal static bool IsThere => GlfwNames.Find() != 0;

    [LibraryImport(Name, EntryPoint = "glfwInit")]
    internal static partial int Init();

    [LibraryImport(Name, EntryPoint = "glfwTerminate")]
    internal static partial void Terminate();

    [LibraryImport(Name, EntryPoint = "glfwGetError")]
    internal static partial int GetError(byte** description);

    [LibraryImport(Name, EntryPoint = "glfwWindowHint")]
    internal static partial void WindowHint(int hint, int value);

    [LibraryImport(Name, EntryPoint = "glfwCreateWindow", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial nint CreateWindow(int width, int height, string title, nint monitor, nint share);

    [LibraryImport(Name, EntryPoint = "glfwDestroyWindow")]
    internal static partial void DestroyWindow(nint window);

    [LibraryImport(Name, EntryPoint = "glfwMakeContextCurrent")]
    internal static partial void MakeContextCurrent(nint window);

    [LibraryImport(Name, EntryPoint = "glfwGetProcAddress", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial nint GetProcAddress(string name);

    [LibraryImport(Name, EntryPoint = "glfwSwapInterval")]
    internal static partial void SwapInterval(int interval);

    [LibraryImport(Name, EntryPoint = "glfwSwapBuffers")]
    internal static partial void SwapBuffers(nint window);

    [LibraryImport(Name, EntryPoint = "glfwPollEvents")]
    internal static partial void PollEvents();

    [LibraryImport(Name, EntryPoint = "glfwWaitEventsTimeout")]
    internal static partial void WaitEventsTimeout(double seconds);

    [LibraryImport(Name, EntryPoint = "glfwPostEmptyEvent")]
    internal static partial void PostEmptyEvent();

    [LibraryImport(Name, EntryPoint = "glfwWindowShouldClose")]
    internal static partial int WindowShouldClose(nint window);

    [LibraryImport(Name, EntryPoint = "glfwSetWindowShouldClose")]
    internal static partial void SetWindowShouldClose(nint window, int value);

    [LibraryImport(Name, EntryPoint = "glfwSetWindowTitle", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial void SetWindowTitle(nint window, string title);

    [LibraryImport(Name, EntryPoint = "glfwGetWindowSize")]
    internal static partial void GetWindowSize(nint window, int* width, int* height);

    [LibraryImport(Name, EntryPoint = "glfwGetWindowPos")]
    internal static partial void GetWindowPosition(nint window, int* x, int* y);

    [LibraryImport(Name, EntryPoint = "glfwSetWindowPos")]
    internal static partial void SetWindowPosition(nint window, int x, int y);

    [LibraryImport(Name, EntryPoint = "glfwShowWindow")]
    internal static partial void ShowWindow(nint window);

    [LibraryImport(Name, EntryPoint = "glfwGetMonitors")]
    internal static partial nint* GetMonitors(int* count);

    [LibraryImport(Name, EntryPoint = "glfwGetMonitorWorkarea")]
    internal static partial void GetMonitorWorkArea(nint monitor, int* x, int* y, int* width, int* height);

    [LibraryImport(Name, EntryPoint = "glfwSetWindowSizeLimits")]
    internal static partial void SetWindowSizeLimits(nint window, int minimumWidth, int minimumHeight, int maximumWidth, int maximumHeight);

    [LibraryImport(Name, EntryPoint = "glfwGetFramebufferSize")]
    internal static partial void GetFramebufferSize(nint window, int* width, int* height);

    [LibraryImport(Name, EntryPoint = "glfwGetWindowContentScale")]
    internal static partial void GetWindowContentScale(nint window, float* x, float* y);

    [LibraryImport(Name, EntryPoint = "glfwGetWindowAttrib")]
    internal static partial int GetWindowAttribute(nint window, int attribute);

    [LibraryImport(Name, EntryPoint = "glfwGetClipboardString")]
    internal static partial byte* GetClipboardString(nint window);

    [LibraryImport(Name, EntryPoint = "glfwSetClipboardString", StringMarshalling = StringMarshalling.Utf8)]
    internal static partial void SetClipboardString(nint window, string text);

    [LibraryImport(Name, EntryPoint = "glfwCreateStandardCursor")]
    internal static partial nint CreateStandardCursor(int shape);

    [LibraryImport(Name, EntryPoint = "glfwSetCursor")]
    internal static partial void SetCursor(nint window, nint cursor);

    [LibraryImport(Name, EntryPoint = "glfwSetKeyCallback")]
    internal static partial nint SetKeyCallback(nint window, delegate* unmanaged[Cdecl]<nint, int, int, int, int, void> callback);

    [LibraryImport(Name, EntryPoint = "glfwSetCharCallback")]
    internal static partial nint SetCharCallback(nint window, delegate* unmanaged[Cdecl]<nint, uint, void> callback);

    [LibraryImport(Name, EntryPoint = "glfwSetMouseButtonCallback")]
    internal static partial nint SetMouseButtonCallback(nint window, delegate* unmanaged[Cdecl]<nint, int, int, int, void> callback);

    [LibraryImport(Name, EntryPoint = "glfwSetCursorPosCallback")]
    internal static partial nint SetCursorPosCallback(nint window, delegate* unmanaged[Cdecl]<nint, double, double, void> callback);

    [LibraryImport(Name, EntryPoint = "glfwSetCursorEnterCallback")]
    internal static partial nint SetCursorEnterCallback(nint window, delegate* unmanaged[Cdecl]<nint, int, void> callback);

    [LibraryImport(Name, EntryPoint = "glfwSetScrollCallback")]
    internal static partial nint SetScrollCallback(nint window, delegate* unmanaged[Cdecl]<nint, double, double, void> callback);

    [LibraryImport(Name, EntryPoint = "glfwSetDropCallback")]
    internal static partial nint SetDropCallback(nint window, delegate* unmanaged[Cdecl]<nint, int, byte**, void> callback);

    [LibraryImport(Name, EntryPoint = "glfwSetFramebufferSizeCallback")]
    internal static partial nint SetFramebufferSizeCallback(nint window, delegate* unmanaged[Cdecl]<nint, int, int, void> callback);

    [LibraryImport(Name, EntryPoint = "glfwSetWindowRefreshCallback")]
    internal static partial nint SetWindowRefreshCallback(nint window, delegate* unmanaged[Cdecl]<nint, void> callback);

    [LibraryImport(Name, EntryPoint = "glfwSetWindowFocusCallback")]
    internal static partial nint SetWindowFocusCallback(nint window, delegate* unmanaged[Cdecl]<nint, int, void> callback);

    /// <summary>What the library says about its last failure.</summary>
    internal static string LastError()
    {
        byte* text = null;
        _ = GetError(&text);
        return Marshal.PtrToStringUTF8((nint)text) ?? "no reason given";
    }
}
