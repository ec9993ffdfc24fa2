using System.Runtime.InteropServices;
using LiveStems.Engine.Devices.Native;

namespace LiveStems.Engine.Devices.PortAudio;

/// <summary>
/// The functions of PortAudio 19 that we call: portaudio.h of Debian 19.6.0 and of git 375345a7. What returns int returns an
/// error below 0.
/// </summary>
internal static unsafe partial class PortAudioLibrary
{
    /// <summary>paFloat32 | paNonInterleaved.</summary>
    internal const uint PlanarFloat = 0x8000_0001;

    /// <summary>paOutputUnderflow of the callback's flags.</summary>
    internal const uint OutputUnderflow = 0x4;

    /// <summary>paContinue, what the callback returns.</summary>
    internal const int Continue = 0;

    private const string Name = NativeLibraries.PortAudio;

    static PortAudioLibrary() => NativeLibraries.Register();

    internal static bool IsThere => NativeLibraries.Find(Name) != 0;

    [LibraryImport(Name, EntryPoint = "Pa_Initialize")]
    internal static partial int Initialize();

    [LibraryImport(Name, EntryPoint = "Pa_Terminate")]
    internal static partial int Terminate();

    [LibraryImport(Name, EntryPoint = "Pa_GetDeviceCount")]
    internal static partial int GetDeviceCount();

    [LibraryImport(Name, EntryPoint = "Pa_GetDefaultOutputDevice")]
    internal static partial int GetDefaultOutputDevice();

    [LibraryImport(Name, EntryPoint = "Pa_GetDeviceInfo")]
    internal static partial DeviceInfo* GetDeviceInfo(int device);

    [LibraryImport(Name, EntryPoint = "Pa_GetHostApiInfo")]
    internal static partial HostApiInfo* GetHostApiInfo(int hostApi);

    /// <summary>0 (paFormatIsSupported), or the error that opening would return.</summary>
    [LibraryImport(Name, EntryPoint = "Pa_IsFormatSupported")]
    internal static partial int IsFormatSupported(StreamParameters* input, StreamParameters* output, double sampleRate);

    [LibraryImport(Name, EntryPoint = "Pa_OpenStream")]
    internal static partial int OpenStream(
        nint* stream,
        StreamParameters* input,
        StreamParameters* output,
        double sampleRate,
        CULong framesPerBuffer,
        CULong flags,
        delegate* unmanaged[Cdecl]<void*, float**, CULong, void*, CULong, nint, int> callback,
        nint userData);

    [LibraryImport(Name, EntryPoint = "Pa_CloseStream")]
    internal static partial int CloseStream(nint stream);

    [LibraryImport(Name, EntryPoint = "Pa_StartStream")]
    internal static partial int StartStream(nint stream);

    [LibraryImport(Name, EntryPoint = "Pa_StopStream")]
    internal static partial int StopStream(nint stream);

    [LibraryImport(Name, EntryPoint = "Pa_AbortStream")]
    internal static partial int AbortStream(nint stream);

    [LibraryImport(Name, EntryPoint = "Pa_IsStreamActive")]
    internal static partial int IsStreamActive(nint stream);

    [LibraryImport(Name, EntryPoint = "Pa_GetStreamInfo")]
    internal static partial StreamInfo* GetStreamInfo(nint stream);

    [LibraryImport(Name, EntryPoint = "Pa_GetErrorText")]
    internal static partial nint GetErrorText(int error);

    [LibraryImport(Name, EntryPoint = "Pa_GetLastHostErrorInfo")]
    internal static partial HostErrorInfo* GetLastHostErrorInfo();
}
