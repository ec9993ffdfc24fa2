using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Space;

/// <summary>
/// Early reflections of one channel: taps of a delay line whose levels fall as the sound's way grows and whose squares add up
/// to 1.
/// </summary>
internal sealed class TappedDelay
{
    // Louder than spherical spreading (1) would leave the late ones: walls come closer together as the order rises.
    private const double FallingExponent = 0.6;

    private readonly int[] frames;
    private readonly float[] gains;

    /// <summary>Taps at given delays in frames, from the shortest.</summary>
    /// <param name="delays">Up to 32 delays.</param>
    /// <param name="negative">Bit k is set when tap k turns the polarity over.</param>
    public TappedDelay(ReadOnlySpan<double> delays, uint negative)
    {
        frames = new int[delays.Length];
        gains = new float[delays.Length];
        double power = 0;
        for (int tap = 0; tap < delays.Length; tap++)
        {
            frames[tap] = (int)Math.Round(delays[tap]);
            power += Math.Pow(delays[0] / delays[tap], 2 * FallingExponent);
        }

        for (int tap = 0; tap < delays.Length; tap++)
        {
            double gain = Math.Pow(delays[0] / delays[tap], FallingExponent) / Math.Sqrt(power);
            gains[tap] = (float)((negative >> tap & 1) == 1 ? -gain : gain);
        }
    }

    /// <summary>The longest delay, frames.</summary>
    public int LongestFrames => frames[^1];

    /// <summary>Writes the taps' sum.</summary>
    /// <param name="history">The sound and what came before it, in one piece.</param>
    /// <param name="newest">Where the sound's first frame lies in it, at least <see cref="LongestFrames"/>.</param>
    /// <param name="reflections">As long as the sound.</param>
    public void Process(ReadOnlySpan<float> history, int newest, Span<float> reflections)
    {
        reflections.Clear();
        for (int tap = 0; tap < frames.Length; tap++)
        {
            Planar.AddScaled(history.Slice(newest - frames[tap], reflections.Length), gains[tap], reflections);
        }
    }
}
