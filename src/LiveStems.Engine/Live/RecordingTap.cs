using LiveStems.Engine.Devices;

namespace LiveStems.Engine.Live;

/// <summary>Passes sound on to a device and, while there is a recording, hands the same sound to that.</summary>
/// <param name="source">Where the sound comes from.</param>
public sealed class RecordingTap(IAudioRenderer source) : IAudioRenderer
{
    private SoundRecording? recording;

    /// <summary>Control thread: what is heard from now on goes into a recording.</summary>
    public void Begin(SoundRecording taken) => Volatile.Write(ref recording, taken);

    /// <summary>Control thread: no more of it goes into the recording, but for a block that may be under way.</summary>
    public void End() => Volatile.Write(ref recording, null);

    /// <inheritdoc/>
    public void Render(Span<float> left, Span<float> right)
    {
        source.Render(left, right);
        Volatile.Read(ref recording)?.Take(left, right);
    }
}
