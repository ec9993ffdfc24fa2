using LiveStems.Engine.Devices.PortAudio;

namespace LiveStems.Engine.Devices;

/// <summary>The sound devices of this machine: listing, choice, opening. All members may be called from any thread.</summary>
public static class AudioDevices
{
    /// <summary>The name that chooses the silent device.</summary>
    public const string Silent = "silent";

    /// <summary>All devices with outputs. The first call asks the system, later ones give the same until <see cref="Refresh"/>.</summary>
    public static DeviceList List() => PortAudioSession.List();

    /// <summary>
    /// Makes the next list fresh. False, and nothing done, while a sound device is open: its library renews the list only
    /// by closing all.
    /// </summary>
    public static bool Refresh() => PortAudioSession.Refresh();

    /// <summary>
    /// Those of the usual rates, 44.1 to 192 kHz, that a device accepts, in hertz; null when it is gone or in use. Takes its
    /// time, since the device is asked for each.
    /// </summary>
    public static IReadOnlyList<int>? AcceptedRates(DeviceDescription device) => PortAudioSession.AcceptedRates(device);

    /// <summary>Opens a device.</summary>
    /// <param name="choice">
    /// A number of the list, a name or part of one, <see cref="Silent"/>; or null for the system's default and, where that
    /// does not work, the silent device.
    /// </param>
    /// <param name="settings">Rate and buffer wanted.</param>
    /// <exception cref="AudioDeviceException">What was asked for cannot be had; never for null and settings in range.</exception>
    public static OpenedDevice Open(string? choice, DeviceSettings settings) => Open(choice, settings, new AudioStatistics());

    internal static OpenedDevice Open(string? choice, DeviceSettings settings, AudioStatistics statistics)
    {
        settings.Check();
        if (DeviceChoice.IsSilent(choice))
        {
            return OpenSilent(settings, statistics, "as asked");
        }

        DeviceList list = List();
        if (choice is null)
        {
            return OpenAutomatic(list, settings, statistics);
        }

        DeviceDescription chosen = DeviceChoice.Find(choice, list);
        return PortAudioDevice.TryOpen(chosen, settings, statistics, out string fault) is { } device
            ? new OpenedDevice(device, chosen, "as asked")
            : throw new AudioDeviceException(fault + DeviceTexts.SilentHint);
    }

    /// <summary>Opens a device that was open before, after it had gone; null while it is not back.</summary>
    internal static IAudioDevice? Reopen(DeviceDescription before, DeviceSettings settings, AudioStatistics statistics)
    {
        Refresh();
        DeviceDescription? back = List().Devices.FirstOrDefault(
            device => device.Name == before.Name && device.HostApi == before.HostApi && device.IsStereo);
        return back is null ? null : PortAudioDevice.TryOpen(back, settings, statistics, out _);
    }

    private static OpenedDevice OpenAutomatic(DeviceList list, DeviceSettings settings, AudioStatistics statistics)
    {
        if (DeviceChoice.Automatic(list.Devices) is not { } chosen)
        {
            return OpenSilent(settings, statistics, $"because {list.Problem ?? DeviceTexts.NoDevices}");
        }

        return PortAudioDevice.TryOpen(chosen, settings, statistics, out string fault) is { } device
            ? new OpenedDevice(device, chosen, chosen.IsDefault ? "chosen as the system's default" : "chosen as the first that plays stereo")
            : OpenSilent(settings, statistics, $"because {fault}");
    }

    private static OpenedDevice OpenSilent(DeviceSettings settings, AudioStatistics statistics, string reason) =>
        new(new SilentDevice(settings, statistics), null, reason);
}
