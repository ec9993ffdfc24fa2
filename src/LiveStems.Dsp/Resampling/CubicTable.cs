using System.Collections.Concurrent;

namespace LiveStems.Dsp.Resampling;

/// <summary>Each tap as a cubic in the phase, over one of at most 64 steps between two input frames.</summary>
/// <remarks>
/// The cubic goes through the four Chebyshev nodes of its step. The error of such a cubic is at most
/// |h⁗|/(24·128)·(1/steps)⁴ (de Boor and Conte, Elementary Numerical Analysis, section 6.1); the fourth derivative of the
/// sinc at its centre is (0.95π)⁴/5 per lower-rate period, so with 64 steps each tap is right to −190 dB.
/// </remarks>
internal sealed class CubicTable
{
    private const int StepsPerPeriod = 64;
    private const int Terms = 4;

    private static readonly ConcurrentDictionary<(int Up, int Down), CubicTable> Designed = new();

    private readonly float[] tails;
    private readonly double[] hearts;

    private CubicTable(ResamplingRatio ratio)
    {
        ResamplingPrototype prototype = new(ratio);
        Layout = new RowLayout(ratio, prototype.HalfWidth);
        Steps = (int)Math.Ceiling(StepsPerPeriod / ratio.Stretch);
        tails = new float[Steps * Terms * Layout.Taps];
        hearts = new double[Steps * Terms * Layout.HeartTaps];
        Span<double> cubic = stackalloc double[Terms];
        for (int step = 0; step < Steps; step++)
        {
            for (int tap = 0; tap < Layout.Taps; tap++)
            {
                FitCubic(prototype, Layout.HalfTaps - 1 - tap + (double)step / Steps, 1.0 / Steps, cubic);
                Keep(step, tap, cubic);
            }
        }
    }

    public RowLayout Layout { get; }

    /// <summary>Steps between two input frames.</summary>
    public int Steps { get; }

    /// <summary>The table for a ratio: designed once, never changed, shared.</summary>
    public static CubicTable For(ResamplingRatio ratio) =>
        Designed.GetOrAdd((ratio.Up, ratio.Down), _ => new CubicTable(ratio));

    /// <summary>The cubics of all taps of the tails in a step, all constant terms first; zeros in place of the heart.</summary>
    public ReadOnlySpan<float> Tails(int step) => tails.AsSpan(step * Terms * Layout.Taps, Terms * Layout.Taps);

    /// <summary>The cubics of all taps of the heart in a step, all constant terms first.</summary>
    public ReadOnlySpan<double> Hearts(int step) => hearts.AsSpan(step * Terms * Layout.HeartTaps, Terms * Layout.HeartTaps);

    private void Keep(int step, int tap, ReadOnlySpan<double> cubic)
    {
        int heartTap = tap - Layout.HeartStart;
        bool inHeart = heartTap >= 0 && heartTap < Layout.HeartTaps;
        for (int term = 0; term < Terms; term++)
        {
            if (inHeart)
            {
                hearts[(step * Terms + term) * Layout.HeartTaps + heartTap] = cubic[term];
            }
            else
            {
                tails[(step * Terms + term) * Layout.Taps + tap] = (float)cubic[term];
            }
        }
    }

    /// <summary>Newton's divided differences through the Chebyshev nodes, expanded to powers of u in 0…1.</summary>
    private static void FitCubic(ResamplingPrototype prototype, double start, double width, Span<double> cubic)
    {
        Span<double> nodes = stackalloc double[Terms];
        Span<double> differences = stackalloc double[Terms];
        for (int i = 0; i < Terms; i++)
        {
            nodes[i] = 0.5 - 0.5 * Math.Cos(Math.PI * (2 * i + 1) / (2 * Terms));
            differences[i] = prototype.At(start + nodes[i] * width);
        }

        for (int order = 1; order < Terms; order++)
        {
            for (int i = Terms - 1; i >= order; i--)
            {
                differences[i] = (differences[i] - differences[i - 1]) / (nodes[i] - nodes[i - order]);
            }
        }

        cubic.Clear();
        for (int i = Terms - 1; i >= 0; i--)
        {
            for (int power = Terms - 1; power > 0; power--)
            {
                cubic[power] = cubic[power - 1] - nodes[i] * cubic[power];
            }

            cubic[0] = differences[i] - nodes[i] * cubic[0];
        }
    }
}
