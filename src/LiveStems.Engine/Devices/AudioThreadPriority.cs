namespace LiveStems.Engine.Devices;

/// <summary>How the system ranks the audio thread.</summary>
public enum AudioThreadPriority
{
    /// <summary>The device has not asked for sound yet.</summary>
    Unknown,

    /// <summary>Like any other thread: the system allowed nothing better.</summary>
    Normal,

    /// <summary>Before other threads of its kind, but not real-time.</summary>
    Raised,

    /// <summary>Real-time (SCHED_FIFO or SCHED_RR): runs as soon as it is due.</summary>
    RealTime,

    /// <summary>What the sound system of Windows or macOS gives its own threads.</summary>
    BySoundSystem,
}
