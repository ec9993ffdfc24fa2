namespace LiveStems.App.Demo.Mixing;

/// <summary>
/// The plain sum of stems, kept in whole numbers so that it is the same in whatever order the stems arrive: 2⁻²⁶ steps,
/// full scale with 30 dB to spare.
/// </summary>
internal sealed class RoughMix(int frames)
{
    private const float Scale = 1 << 26;
    private readonly int[] left = new int[frames];
    private readonly int[] right = new int[frames];

    /// <summary>Adds a stem, mono on both sides; safe from several threads.</summary>
    public void Add(float[][] channels)
    {
        lock (left)
        {
            AddRounded(left, channels[0]);
            AddRounded(right, channels[^1]);
        }
    }

    public float[][] Finish() => [.. new[] { left, right }.Select(side => Array.ConvertAll(side, value => value / Scale))];

    private static void AddRounded(int[] sum, float[] samples)
    {
        for (int i = 0; i < sum.Length; i++)
        {
            sum[i] += (int)MathF.Round(samples[i] * Scale);
        }
    }
}
