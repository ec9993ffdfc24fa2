using System.Collections.Concurrent;

namespace LiveStems.Dsp.Resampling;

/// <summary>Each tap as a cubic in the phase, over one of at most 64 steps between two input frames.</summary>
/// <remarks>
/// By the error of <see cref="CubicFit"/> with 64 steps to a period of the lower rate each tap is right to −190 dB.
/// </remarks>
internal sealed class CubicTable
{
    private const int StepsPerPeriod = 64;
    private const int Terms = CubicFit.Terms;

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
                CubicFit.Fit(prototype.At, Layout.HalfTaps - 1 - tap + (double)step / Steps, 1.0 / Steps, cubic);
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
}
