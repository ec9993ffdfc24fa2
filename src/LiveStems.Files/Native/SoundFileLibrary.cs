using System.Reflection;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace LiveStems.Files.Native;

/// <summary>The functions of libsndfile that we call (sndfile.h 1.2; layout and numbers from memory, checked by the tests).</summary>
internal static partial class SoundFileLibrary
{
    internal const int ReadMode = 0x10;
    internal const int WriteMode = 0x20;

    private const string Name = "sndfile";

    private static readonly string[] FileNames =
        OperatingSystem.IsWindows() ? ["sndfile.dll", "libsndfile-1.dll", "libsndfile.dll"]
        : OperatingSystem.IsMacOS() ?
        [
            "libsndfile.1.dylib", "libsndfile.dylib",
            "/opt/homebrew/lib/libsndfile.1.dylib", "/usr/local/lib/libsndfile.1.dylib", "/opt/local/lib/libsndfile.1.dylib",
        ]
        : ["libsndfile.so.1", "libsndfile.so"];

    private static readonly nint Library = Load();

    static SoundFileLibrary() => NativeLibrary.SetDllImportResolver(
        typeof(SoundFileLibrary).Assembly,
        (name, _, _) => name == Name ? Library : 0);

    /// <summary>Is the library installed?</summary>
    internal static bool IsThere => Library != 0;

    [LibraryImport(Name, EntryPoint = "sf_open_virtual")]
    internal static unsafe partial SoundFileHandle Open(ref VirtualFile file, int mode, ref SoundFileFacts facts, nint userData);

    [LibraryImport(Name, EntryPoint = "sf_readf_float")]
    internal static unsafe partial long ReadFrames(SoundFileHandle handle, float* interleaved, long frames);

    [LibraryImport(Name, EntryPoint = "sf_writef_int")]
    internal static unsafe partial long WriteFrames(SoundFileHandle handle, int* interleaved, long frames);

    [LibraryImport(Name, EntryPoint = "sf_set_string")]
    internal static partial int SetText(SoundFileHandle handle, int kind, nint text);

    [LibraryImport(Name, EntryPoint = "sf_seek")]
    internal static partial long Seek(SoundFileHandle handle, long frames, int whence);

    [LibraryImport(Name, EntryPoint = "sf_close")]
    internal static partial int Close(nint handle);

    [LibraryImport(Name, EntryPoint = "sf_strerror")]
    private static partial nint ErrorText(nint handle);

    /// <summary>Why the last opening failed.</summary>
    internal static string OpeningError() => Marshal.PtrToStringUTF8(ErrorText(0)) ?? "no reason given";

    private static nint Load()
    {
        foreach (string name in FileNames)
        {
            if (NativeLibrary.TryLoad(name, Assembly.GetExecutingAssembly(), null, out nint library))
            {
                return library;
            }
        }

        return 0;
    }
}

/// <summary>SF_INFO.</summary>
[StructLayout(LayoutKind.Sequential)]
internal struct SoundFileFacts
{
    internal long Frames;
    internal int SampleRate;
    internal int Channels;
    internal int Format;
    internal int Sections;
    internal int IsSeekable;
}

/// <summary>SF_VIRTUAL_IO: how the library reaches a file's bytes.</summary>
[StructLayout(LayoutKind.Sequential)]
internal unsafe struct VirtualFile
{
    internal delegate* unmanaged[Cdecl]<nint, long> Length;
    internal delegate* unmanaged[Cdecl]<long, int, nint, long> Seek;
    internal delegate* unmanaged[Cdecl]<byte*, long, nint, long> Read;
    internal delegate* unmanaged[Cdecl]<byte*, long, nint, long> Write;
    internal delegate* unmanaged[Cdecl]<nint, long> Tell;
}
