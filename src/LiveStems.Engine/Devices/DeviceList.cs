namespace LiveStems.Engine.Devices;

/// <summary>The sound devices of this machine.</summary>
/// <param name="Devices">All that have outputs, in the order of the system; the silent device is not among them.</param>
/// <param name="Problem">Why there are none, as one line with the cure; null where there are some.</param>
public sealed record DeviceList(IReadOnlyList<DeviceDescription> Devices, string? Problem);
