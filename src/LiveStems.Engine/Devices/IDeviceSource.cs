namespace LiveStems.Engine.Devices;

/// <summary>Where a <see cref="DeviceKeeper"/> gets devices from.</summary>
internal interface IDeviceSource
{
    /// <summary>The devices there are; asked of the system anew if wanted, which only works while none is open.</summary>
    DeviceList List(bool isAskedAnew);

    /// <summary>Opens a device by choice.</summary>
    /// <exception cref="AudioDeviceException">It cannot be had.</exception>
    OpenedDevice Open(string? choice, DeviceSettings settings, AudioStatistics statistics);

    /// <summary>Opens the device again that has gone; null while it is away.</summary>
    IAudioDevice? Reopen(DeviceDescription description, DeviceSettings settings, AudioStatistics statistics);
}

/// <summary>The devices of this machine.</summary>
internal sealed class SystemDeviceSource : IDeviceSource
{
    public DeviceList List(bool isAskedAnew)
    {
        _ = isAskedAnew && AudioDevices.Refresh();
        return AudioDevices.List();
    }

    public OpenedDevice Open(string? choice, DeviceSettings settings, AudioStatistics statistics) =>
        AudioDevices.Open(choice, settings, statistics);

    public IAudioDevice? Reopen(DeviceDescription description, DeviceSettings settings, AudioStatistics statistics) =>
        AudioDevices.Reopen(description, settings, statistics);
}
