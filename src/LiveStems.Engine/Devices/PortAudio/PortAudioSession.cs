using System.Runtime.InteropServices;

namespace LiveStems.Engine.Devices.PortAudio;

/// <summary>
/// The one use of PortAudio in this process: begun when needed, begun anew to see devices come and go, never while a stream
/// is open. The library's control functions may not run side by side: all of them are called under one lock.
/// </summary>
internal static unsafe class PortAudioSession
{
    private static readonly Lock Gate = new();
    private static bool isBegun;
    private static int openStreams;

    internal static DeviceList List()
    {
        lock (Gate)
        {
            if (Begin() is { } problem)
            {
                return new DeviceList([], problem);
            }

            List<DeviceDescription> devices = [];
            int count = PortAudioLibrary.GetDeviceCount();
            for (int index = 0; index < count; index++)
            {
                if (Describe(index) is { OutputChannels: > 0 } device)
                {
                    devices.Add(device);
                }
            }

            return new DeviceList(devices, devices.Count == 0 ? DeviceTexts.NoDevices : null);
        }
    }

    /// <summary>The usual rates that a device accepts; null when it cannot be asked now.</summary>
    internal static IReadOnlyList<int>? AcceptedRates(DeviceDescription device)
    {
        lock (Gate)
        {
            if (!IsThere(device))
            {
                return null;
            }

            StreamParameters output = Output(device, device.HighLatencySeconds);
            return RateQuestions.Accepted(rate => Ask(output, rate));
        }

        static int Ask(StreamParameters output, int sampleRate) => PortAudioLibrary.IsFormatSupported(null, &output, sampleRate);
    }

    internal static bool Refresh()
    {
        lock (Gate)
        {
            if (openStreams > 0)
            {
                return false;
            }

            if (isBegun)
            {
                _ = PortAudioLibrary.Terminate();
                isBegun = false;
            }

            return true;
        }
    }

    /// <summary>Opens a stereo stream, or returns the library's error.</summary>
    internal static int Open(DeviceDescription device, double sampleRate, DeviceSettings settings, nint userData, out nint stream)
    {
        lock (Gate)
        {
            stream = 0;
            if (!IsThere(device))
            {
                return PortAudioError.InvalidDevice;
            }

            StreamParameters output = Output(device, Math.Max(settings.WaitingSeconds(sampleRate), device.LowLatencySeconds));
            nint opened;
            int error = PortAudioLibrary.OpenStream(
                &opened,
                null,
                &output,
                sampleRate,
                new CULong((uint)settings.BufferFrames),
                new CULong(0),
                OutputCallback.Function,
                userData);
            if (error == PortAudioError.None)
            {
                stream = opened;
                openStreams++;
            }

            return error;
        }
    }

    internal static void Close(nint stream)
    {
        lock (Gate)
        {
            _ = PortAudioLibrary.CloseStream(stream);
            openStreams--;
        }
    }

    internal static string ErrorText(int error)
    {
        lock (Gate)
        {
            return PortAudioError.Text(error);
        }
    }

    private static bool IsThere(DeviceDescription device) =>
        Begin() is null && Describe(device.Index) is { } found && found.Name == device.Name;

    private static StreamParameters Output(DeviceDescription device, double latencySeconds) => new()
    {
        Device = device.Index,
        ChannelCount = Math.Min(2, device.OutputChannels),
        SampleFormat = new CULong(PortAudioLibrary.PlanarFloat),
        SuggestedLatency = latencySeconds,
    };

    // Null, or why the library cannot be used.
    private static string? Begin()
    {
        if (isBegun)
        {
            return null;
        }

        if (!PortAudioLibrary.IsThere)
        {
            return DeviceTexts.MissingLibrary();
        }

        LibraryMessages.Silence();
        int error = PortAudioLibrary.Initialize();
        isBegun = error == PortAudioError.None;
        return isBegun ? null : DeviceTexts.LibraryFails(PortAudioError.Text(error));
    }

    private static DeviceDescription? Describe(int index)
    {
        DeviceInfo* device = PortAudioLibrary.GetDeviceInfo(index);
        if (device is null)
        {
            return null;
        }

        HostApiInfo* hostApi = PortAudioLibrary.GetHostApiInfo(device->HostApi);
        return new DeviceDescription(
            index,
            Marshal.PtrToStringUTF8(device->Name) ?? string.Empty,
            (hostApi is null ? null : Marshal.PtrToStringUTF8(hostApi->Name)) ?? string.Empty,
            device->MaximumOutputChannels,
            (int)Math.Round(device->DefaultSampleRate),
            device->LowOutputLatency,
            device->HighOutputLatency,
            index == PortAudioLibrary.GetDefaultOutputDevice());
    }
}
