namespace LiveStems.Engine.Devices;

/// <summary>Passes sound on and keeps the first frames of it in memory, for tests and measurements.</summary>
/// <param name="source">Where the sound comes from.</param>
/// <param name="capacity">Frames to keep; later ones are passed on only.</param>
public sealed class CapturingRenderer(IAudioRenderer source, int capacity) : IAudioRenderer
{
    private readonly float[] left = new float[capacity];
    private readonly float[] right = new float[capacity];
    private int kept;

    /// <summary>Frames kept so far.</summary>
    public int CapturedFrames => Volatile.Read(ref kept);

    /// <summary>The left channel of what was kept so far.</summary>
    public ReadOnlySpan<float> Left => left.AsSpan(0, CapturedFrames);

    /// <summary>The right channel of what was kept so far.</summary>
    public ReadOnlySpan<float> Right => right.AsSpan(0, CapturedFrames);

    /// <inheritdoc/>
    public void Render(Span<float> left, Span<float> right)
    {
        source.Render(left, right);
        int frames = Math.Min(left.Length, capacity - kept);
        left[..frames].CopyTo(this.left.AsSpan(kept));
        right[..frames].CopyTo(this.right.AsSpan(kept));
        Volatile.Write(ref kept, kept + frames);
    }
}
