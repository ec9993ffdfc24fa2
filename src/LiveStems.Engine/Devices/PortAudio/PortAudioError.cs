using System.Runtime.InteropServices;

namespace LiveStems.Engine.Devices.PortAudio;

/// <summary>Error numbers of PortAudio (PaErrorCode) and their words.</summary>
internal static unsafe class PortAudioError
{
    internal const int None = 0;
    internal const int UnanticipatedHostError = -9999;
    internal const int InvalidSampleRate = -9997;
    internal const int InvalidDevice = -9996;
    internal const int DeviceUnavailable = -9985;

    /// <summary>The library's words for an error, with the system's own where there are some.</summary>
    internal static string Text(int error)
    {
        string text = Marshal.PtrToStringUTF8(PortAudioLibrary.GetErrorText(error)) ?? $"error {error}";
        HostErrorInfo* host = error == UnanticipatedHostError ? PortAudioLibrary.GetLastHostErrorInfo() : null;
        string? hostText = host is null ? null : Marshal.PtrToStringUTF8(host->Text);
        return (string.IsNullOrWhiteSpace(hostText) ? text : hostText).Trim().TrimEnd('.').ReplaceLineEndings(" ");
    }
}
