namespace LiveStems.Engine.Devices;

/// <summary>Where a <see cref="DeviceKeeper"/> gets devices from.</summary>
internal interface IDeviceSource
{
    /// <summary>Opens a device by choice.</summary>
    /// <exception cref="AudioDeviceException">It cannot be had.</exception>
    OpenedDevice Open(string? choice, DeviceSettings settings, AudioStatistics statistics);

    /// <summary>Opens the device again that has gone; null while it is away.</summary>
    IAudioDevice? Reopen(DeviceDescription description, DeviceSettings settings, AudioStatistics statistics);
}

/// <summary>The devices of this machine.</summary>
internal sealed class SystemDeviceSource : IDeviceSource
{
    public OpenedDevice Open(string? choice, DeviceSettings settings, AudioStatistics statistics) =>
        AudioDevices.Open(choice, settings, statistics);

    public IAudioDevice? Reopen(DeviceDescription description, DeviceSettings settings, AudioStatistics statistics) =>
        AudioDevices.Reopen(description, settings, statistics);
}
