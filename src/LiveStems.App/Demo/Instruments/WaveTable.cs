namespace LiveStems.App.Demo.Instruments;

/// <summary>
/// One period of a wave in versions with fewer and fewer harmonics, two to an octave, so that no pitch folds back above
/// half the sample rate.
/// </summary>
internal sealed class WaveTable
{
    public const int Size = 2048;
    private readonly float[][] levels;
    private readonly int[] harmonics;

    /// <param name="spectrum">Cosine and sine amplitude of harmonic 1, 2, 3, ….</param>
    /// <param name="most">The most harmonics worth having.</param>
    public WaveTable(Func<int, (double Cosine, double Sine)> spectrum, int most)
    {
        var counts = new List<int>();
        for (double count = Math.Min(most, Size / 2 - 1); count >= 1; count /= Math.Sqrt(2))
        {
            counts.Add((int)count);
        }

        harmonics = [.. counts.Distinct()];
        levels = new float[harmonics.Length][];
        double[] sum = new double[Size];
        int built = 0;
        for (int level = harmonics.Length - 1; level >= 0; level--)
        {
            for (; built < harmonics[level]; built++)
            {
                AddHarmonic(sum, built + 1, spectrum(built + 1));
            }

            levels[level] = [.. sum.Select(value => (float)value), (float)sum[0]];
        }
    }

    /// <summary>A sawtooth that falls from 1 to −1.</summary>
    public static WaveTable Saw { get; } = new(n => (0, 2 / (Math.PI * n)), 700);

    /// <summary>The version for a pitch; one point more than <see cref="Size"/>, the first again at the end.</summary>
    public float[] For(double hertz, int sampleRate)
    {
        double fits = Math.Min(0.46 * sampleRate, 20000) / hertz;
        int level = 0;
        while (level < harmonics.Length - 1 && harmonics[level] > fits)
        {
            level++;
        }

        return levels[level];
    }

    /// <summary>Value at a phase from 0 to below 1.</summary>
    public static float At(float[] points, double phase)
    {
        double scaled = phase * Size;
        int index = (int)scaled;
        float low = points[index];
        return low + (float)(scaled - index) * (points[index + 1] - low);
    }

    private static void AddHarmonic(double[] sum, int number, (double Cosine, double Sine) amplitude)
    {
        for (int i = 0; i < Size; i++)
        {
            (double sine, double cosine) = Math.SinCos(2 * Math.PI * (number * i % Size) / Size);
            sum[i] += amplitude.Cosine * cosine + amplitude.Sine * sine;
        }
    }
}
