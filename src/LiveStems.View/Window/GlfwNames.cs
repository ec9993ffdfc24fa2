using System.Runtime.InteropServices;

namespace LiveStems.View.Window;

/// <summary>Where the GLFW library is found. The one import resolver of this assembly.</summary>
internal static class GlfwNames
{
    internal const string Library = "glfw";

    private static nint loaded;

    static GlfwNames() => NativeLibrary.SetDllImportResolver(typeof(GlfwNames).Assembly, (name, _, _) => name == Library ? Find() : 0);

    /// <summary>The command that installs the library on this system.</summary>
    internal static string InstallCommand =>
        OperatingSystem.IsWindows() ? "winget install glfw"
        : OperatingSystem.IsMacOS() ? "brew install glfw"
        : "apt-get install libglfw3";

    /// <summary>Makes sure that imports are resolved here; the static constructor does it.</summary>
    internal static void Register()
    {
    }

    /// <summary>The handle of the library, 0 if it is not installed.</summary>
    internal static nint Find()
    {
        if (loaded != 0)
        {
            return loaded;
        }

        foreach (string file in FileNames())
        {
            if (NativeLibrary.TryLoad(file, typeof(GlfwNames).Assembly, null, out loaded))
            {
                return loaded;
            }
        }

        return 0;
    }

    private static string[] FileNames() =>
        OperatingSystem.IsWindows() ? ["glfw3.dll", "libglfw3.dll"]
        : OperatingSystem.IsMacOS()
            ? ["libglfw.3.dylib", "libglfw.dylib", "/opt/homebrew/lib/libglfw.3.dylib", "/usr/local/lib/libglfw.3.dylib", "/opt/local/lib/libglfw.3.dylib"]
        : ["libglfw.so.3", "libglfw.so"];
}
