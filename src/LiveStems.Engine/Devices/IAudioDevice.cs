namespace LiveStems.Engine.Devices;

/// <summary>A stereo output: a sound device, or a silent one that keeps the time of one.</summary>
public interface IAudioDevice : IDisposable
{
    /// <summary>Name for people: "Built-in output (ALSA)", "silent device".</summary>
    string Name { get; }

    /// <summary>Frames per second it runs at.</summary>
    int SampleRate { get; }

    /// <summary>Frames it asks for at a time.</summary>
    int BufferFrames { get; }

    /// <summary>Seconds from a rendered frame to the ear, as the system states it.</summary>
    double LatencySeconds { get; }

    /// <summary>False when the device has gone away.</summary>
    bool IsAlive { get; }

    /// <summary>Counts of what has happened on the audio thread.</summary>
    AudioStatistics Statistics { get; }

    /// <summary>Starts to ask for sound.</summary>
    /// <exception cref="AudioDeviceException">The device cannot start.</exception>
    void Start(IAudioRenderer renderer);

    /// <summary>Stops; returns when no call is under way any more.</summary>
    void Stop();
}
