namespace LiveStems.Engine.Devices;

/// <summary>What a device asks for sound.</summary>
public interface IAudioRenderer
{
    /// <summary>
    /// Fills the next frames, planar, full scale ±1; any number up to the device's buffer. Called on the audio thread: it
    /// neither allocates, locks, waits, does I/O nor throws.
    /// </summary>
    void Render(Span<float> left, Span<float> right);

    /// <summary>Audio thread, after a call: what it cost and lacked on other threads since the last time; nothing where there are none.</summary>
    RenderedElsewhere TakeElsewhere() => default;
}
