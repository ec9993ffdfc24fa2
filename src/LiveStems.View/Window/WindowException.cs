namespace LiveStems.View.Window;

/// <summary>There can be no window here; the message is one line that says why, the cure, and what works without.</summary>
public sealed class WindowException(string message, Exception? inner = null) : Exception(message, inner)
{
    private const string Without = "without a window: livestems play, set, render, measure, demo --no-window";

    internal static WindowException NoLibrary() =>
        new($"the window needs the GLFW library: {GlfwNames.InstallCommand}; {Without}");

    internal static WindowException NoDisplay(string reason) =>
        new($"there is no display for a window ({Shorten(reason)}); {Without}");

    internal static WindowException NoOpenGl(string reason) =>
        new($"the window needs OpenGL 3.3 ({Shorten(reason)}): {(OperatingSystem.IsLinux() ? "apt-get install libgl1 libgl1-mesa-dri" : "update the graphics driver")}; {Without}");

    internal static WindowException LostContext() =>
        new($"the graphics driver was reset and took the window's contents along; the album is saved, start again with livestems open; {Without}");

    private static string Shorten(string reason) => reason.ReplaceLineEndings(" ").TrimEnd('.', ' ');
}
