using System.Runtime.InteropServices;

namespace LiveStems.Engine.Devices.Native;

/// <summary>Where the system libraries that we call are found. The one import resolver of this assembly.</summary>
internal static class NativeLibraries
{
    internal const string PortAudio = "portaudio";
    internal const string Alsa = "asound";
    internal const string Jack = "jack";

    private static readonly Lock Gate = new();
    private static readonly Dictionary<string, nint> Loaded = [];

    static NativeLibraries() => NativeLibrary.SetDllImportResolver(
        typeof(NativeLibraries).Assembly,
        (name, _, _) => Find(name));

    /// <summary>Makes sure that imports are resolved here; the static constructor does it.</summary>
    internal static void Register()
    {
    }

    /// <summary>The handle of a library, 0 if it is not installed; one that was missing is looked for anew each time.</summary>
    internal static nint Find(string name)
    {
        lock (Gate)
        {
            if (Loaded.TryGetValue(name, out nint known))
            {
                return known;
            }

            foreach (string file in FileNames(name))
            {
                if (NativeLibrary.TryLoad(file, typeof(NativeLibraries).Assembly, null, out nint library))
                {
                    Loaded[name] = library;
                    return library;
                }
            }

            return 0;
        }
    }

    private static string[] FileNames(string name) => name switch
    {
        PortAudio when OperatingSystem.IsWindows() =>
            ["portaudio_x64.dll", "portaudio.dll", "libportaudio-2.dll", "libportaudio.dll"],
        PortAudio when OperatingSystem.IsMacOS() =>
        [
            "libportaudio.2.dylib", "libportaudio.dylib",
            "/opt/homebrew/lib/libportaudio.2.dylib", "/usr/local/lib/libportaudio.2.dylib", "/opt/local/lib/libportaudio.2.dylib",
        ],
        PortAudio => ["libportaudio.so.2", "libportaudio.so"],
        Alsa => ["libasound.so.2"],
        Jack => ["libjack.so.0"],
        _ => [],
    };
}
