namespace LiveStems.Engine.Devices;

/// <summary>A sound device with outputs, as the system describes it.</summary>
/// <param name="Index">Its number; holds until the list is made anew.</param>
/// <param name="Name">Its name.</param>
/// <param name="HostApi">The part of the system that offers it: ALSA, Core Audio, Windows WASAPI, …</param>
/// <param name="OutputChannels">Channels it can play at most, at least 1.</param>
/// <param name="DefaultSampleRate">The rate it prefers, in hertz.</param>
/// <param name="LowLatencySeconds">Latency for live use, in seconds.</param>
/// <param name="HighLatencySeconds">Latency for safe playing, in seconds.</param>
/// <param name="IsDefault">Is it the one that the system chose for its user?</param>
public sealed record DeviceDescription(
    int Index,
    string Name,
    string HostApi,
    int OutputChannels,
    int DefaultSampleRate,
    double LowLatencySeconds,
    double HighLatencySeconds,
    bool IsDefault)
{
    /// <summary>Name and host API for people: "Built-in output (ALSA)".</summary>
    public string Label => $"{Name} ({HostApi})";

    /// <summary>Can it play stereo?</summary>
    public bool IsStereo => OutputChannels >= 2;
}
