using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Space;

/// <summary>
/// Allpass filters in series, which make many small echoes of each one and leave the spectrum alone: M. R. Schroeder, "Natural
/// Sounding Artificial Reverberation", JAES 10 (1962). y = v[n−d] − g v[n], v[n] = x[n] + g v[n−d].
/// </summary>
internal sealed class AllpassDiffuser
{
    /// <summary>g: 60 dB down after 13.5 passes.</summary>
    public const float Gain = 0.6f;

    private const float Tiny = 1e-20f;

    private readonly float[][] rings;
    private readonly int[] positions;

    /// <summary>One filter for each delay in frames, from 1.</summary>
    public AllpassDiffuser(ReadOnlySpan<int> frames)
    {
        rings = new float[frames.Length][];
        positions = new int[frames.Length];
        for (int i = 0; i < frames.Length; i++)
        {
            rings[i] = Unmoved.Array<float>(frames[i]);
        }
    }

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        foreach (float[] ring in rings)
        {
            Array.Clear(ring);
        }

        Array.Clear(positions);
    }

    /// <summary>Filters in place.</summary>
    public void Process(Span<float> sound)
    {
        for (int i = 0; i < rings.Length; i++)
        {
            positions[i] = Process(sound, rings[i], positions[i]);
        }
    }

    private static int Process(Span<float> sound, float[] ring, int position)
    {
        for (int n = 0; n < sound.Length; n++)
        {
            float late = ring[position];
            float v = MathF.FusedMultiplyAdd(Gain, late, sound[n]);
            v = MathF.Abs(v) < Tiny ? 0 : v;
            sound[n] = MathF.FusedMultiplyAdd(-Gain, v, late);
            ring[position] = v;
            position = position + 1 == ring.Length ? 0 : position + 1;
        }

        return position;
    }
}
