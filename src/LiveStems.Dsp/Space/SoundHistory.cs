using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Space;

/// <summary>The recent past of one channel, always in one piece.</summary>
internal sealed class SoundHistory
{
    private readonly int length;
    private readonly float[] samples;
    private int position;

    /// <summary>Keeps at least so many frames behind a stretch of at most so many.</summary>
    public SoundHistory(int pastFrames, int stretchFrames)
    {
        // Every frame is written twice, a ring apart, so that any stretch of the ring lies in one piece.
        length = pastFrames + stretchFrames;
        samples = Unmoved.Array<float>(2 * length);
    }

    /// <summary>The past; the last stretch begins at <see cref="Newest"/>.</summary>
    public ReadOnlySpan<float> Samples => samples;

    /// <summary>Where the last stretch begins.</summary>
    public int Newest { get; private set; }

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        Array.Clear(samples);
        position = 0;
        Newest = 0;
    }

    /// <summary>Takes a stretch.</summary>
    public void Write(ReadOnlySpan<float> stretch)
    {
        int first = Math.Min(stretch.Length, length - position);
        stretch[..first].CopyTo(samples.AsSpan(position));
        stretch[..first].CopyTo(samples.AsSpan(position + length));
        stretch[first..].CopyTo(samples);
        stretch[first..].CopyTo(samples.AsSpan(length));
        int end = position + stretch.Length;
        position = end % length;

        // The copy whose whole past lies before it: the stretch ends at or behind the first ring's end.
        Newest = (end >= length ? end : end + length) - stretch.Length;
    }
}
