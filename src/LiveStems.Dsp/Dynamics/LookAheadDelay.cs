namespace LiveStems.Dsp.Dynamics;

/// <summary>Holds one channel back by a fixed number of samples, so that a gain can be ready before the sound it is for.</summary>
public sealed class LookAheadDelay
{
    private readonly float[] ring;
    private int position;

    /// <summary>A delay of 0 or more samples, filled with silence.</summary>
    public LookAheadDelay(int samples) => ring = new float[samples];

    /// <summary>Samples between input and output.</summary>
    public int Samples => ring.Length;

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        Array.Clear(ring);
        position = 0;
    }

    /// <summary>Replaces each sample by the one that came in <see cref="Samples"/> earlier.</summary>
    public void Process(Span<float> samples)
    {
        if (ring.Length == 0)
        {
            return;
        }

        while (samples.Length > 0)
        {
            int run = Math.Min(samples.Length, ring.Length - position);
            Span<float> incoming = samples[..run];
            Span<float> stored = ring.AsSpan(position, run);
            for (int i = 0; i < run; i++)
            {
                (incoming[i], stored[i]) = (stored[i], incoming[i]);
            }

            position = position + run == ring.Length ? 0 : position + run;
            samples = samples[run..];
        }
    }
}
