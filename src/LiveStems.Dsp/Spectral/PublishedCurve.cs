namespace LiveStems.Dsp.Spectral;

/// <summary>
/// A curve that one thread keeps writing and one other thread looks at, the newest whole one at a time, without either
/// ever waiting: three buffers, of which one is being written, one is being read and one changes hands.
/// </summary>
public sealed class PublishedCurve
{
    private const int Fresh = 4;

    private readonly float[][] buffers;
    private int writing;
    private int reading = 1;
    private int between = 2;

    /// <summary>A curve of <paramref name="points"/> zeros.</summary>
    public PublishedCurve(int points) => buffers = [new float[points], new float[points], new float[points]];

    /// <summary>Where the writing thread puts the next curve; every point must be written.</summary>
    public Span<float> Next => buffers[writing];

    /// <summary>Hands over what was written to <see cref="Next"/>.</summary>
    public void Publish() => writing = Interlocked.Exchange(ref between, writing | Fresh) & ~Fresh;

    /// <summary>The newest curve, for the reading thread; it stands still until this is called again.</summary>
    public ReadOnlySpan<float> Latest()
    {
        if ((Volatile.Read(ref between) & Fresh) != 0)
        {
            reading = Interlocked.Exchange(ref between, reading) & ~Fresh;
        }

        return buffers[reading];
    }
}
