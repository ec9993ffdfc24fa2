namespace LiveStems.Engine.Devices;

/// <summary>A device that was opened, and why this one.</summary>
/// <param name="Device">The device, not started.</param>
/// <param name="Description">What was chosen; null for the silent device.</param>
/// <param name="Reason">Why, as the end of a sentence: "chosen as the system's default", "as asked", "because PortAudio is not installed …".</param>
public sealed record OpenedDevice(IAudioDevice Device, DeviceDescription? Description, string Reason)
{
    /// <summary>One line for people: name, rate, buffer, latency and reason.</summary>
    public string Summary
    {
        get
        {
            string rate = Device is PortAudio.PortAudioDevice sound && sound.SampleRate != sound.WantedSampleRate
                ? $"{sound.SampleRate} Hz, converted from {sound.WantedSampleRate} Hz"
                : $"{Device.SampleRate} Hz";
            return $"{Device.Name}: {rate}, {Device.BufferFrames} frames, latency {Device.LatencySeconds * 1000:0.0} ms, {Reason}";
        }
    }
}
