using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using LiveStems.Engine.Devices.Native;

namespace LiveStems.Engine.Devices.PortAudio;

/// <summary>
/// Keeps ALSA and JACK from writing dozens of lines to the terminal while PortAudio looks for devices that are not there.
/// </summary>
/// <remarks>
/// The handler has fewer parameters than its callers pass, two of them variadic: in the C calling conventions of Linux the
/// caller clears the arguments away, so that a function that reads none may be called with any.
/// </remarks>
internal static unsafe class LibraryMessages
{
    private static bool isDone;

    /// <summary>Silences both for the life of the process; nothing where they are not installed, or not on Linux.</summary>
    internal static void Silence()
    {
        if (isDone || !OperatingSystem.IsLinux())
        {
            return;
        }

        isDone = true;
        SetHandler(NativeLibraries.Alsa, "snd_lib_error_set_handler");
        SetHandler(NativeLibraries.Jack, "jack_set_error_function");
        SetHandler(NativeLibraries.Jack, "jack_set_info_function");
    }

    private static void SetHandler(string library, string setter)
    {
        nint handle = NativeLibraries.Find(library);
        if (handle != 0 && NativeLibrary.TryGetExport(handle, setter, out nint address))
        {
            ((delegate* unmanaged[Cdecl]<delegate* unmanaged[Cdecl]<void>, void>)address)(&Ignore);
        }
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void Ignore()
    {
    }
}
