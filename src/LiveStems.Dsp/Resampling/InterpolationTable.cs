using System.Collections.Concurrent;
using LiveStems.Dsp.Simd;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// A short interpolator for sound that leaves most of its band empty, each tap as a cubic in the position between two frames.
/// </summary>
/// <remarks>Sinc under a Kaiser window; the cubics are right to −188 dB of the largest tap as <see cref="CubicFit"/> says.</remarks>
internal sealed class InterpolationTable
{
    /// <summary>Taps come in vectors of so many.</summary>
    public const int Lanes = 8;

    /// <summary>Steps between two frames.</summary>
    public const int StepCount = 64;
    private const double AttenuationDb = 160;

    private static readonly ConcurrentDictionary<double, InterpolationTable> Designed = new();

    private InterpolationTable(double lowerRate)
    {
        double wanted = 1 + (AttenuationDb - 7.95) / (2.285 * 2 * Math.PI * (1 - lowerRate));
        Taps = (int)Math.Ceiling(wanted / Lanes) * Lanes;
        Cubics = new AlignedMemory<double>(StepCount * CubicFit.Terms * Taps);
        double beta = KaiserWindow.Beta(AttenuationDb);
        Span<double> cubic = stackalloc double[CubicFit.Terms];
        for (int step = 0; step < StepCount; step++)
        {
            for (int tap = 0; tap < Taps; tap++)
            {
                CubicFit.Fit(time => Value(time, beta), Taps / 2 - 1 - tap + (double)step / StepCount, 1.0 / StepCount, cubic);
                for (int term = 0; term < CubicFit.Terms; term++)
                {
                    Cubics.Span[(step * CubicFit.Terms + term) * Taps + tap] = cubic[term];
                }
            }
        }
    }

    public int Taps { get; }

    /// <summary>For each step the constant terms of all taps, then the linear ones and so on.</summary>
    public AlignedMemory<double> Cubics { get; }

    /// <param name="lowerRate">Twice the highest frequency that counts, as a share of the rate of the input; at most ½, so that two or three vectors are enough.</param>
    public static InterpolationTable For(double lowerRate) => Designed.GetOrAdd(lowerRate, rate => new InterpolationTable(rate));

    private double Value(double time, double beta)
    {
        double angle = Math.PI * time;
        double sinc = Math.Abs(angle) < 1e-9 ? 1 : Math.Sin(angle) / angle;
        return sinc * KaiserWindow.Value(2 * time / Taps, beta);
    }
}
