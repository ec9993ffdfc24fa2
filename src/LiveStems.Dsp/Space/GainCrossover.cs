using LiveStems.Dsp.Filters;

namespace LiveStems.Dsp.Space;

/// <summary>
/// One gain below a frequency and another above it, as a filter of fourth order that is nothing at all when both are equal.
/// </summary>
/// <remarks>
/// <para>
/// Derived here. A Butterworth filter's denominator of order 4 is the product of s² + k s + 1 with k = 2 sin(π/8) and
/// 2 sin(3π/8) (S. Butterworth, 1930). Take for each the numerator h s² + k √(l h) s + l with l, h the square roots of
/// the gains L below and H above. Its roots are those of the denominator moved by √(l/h), so the product of both
/// numerators is a Butterworth polynomial too and |N|² = L² + H² s⁸ at s = jω. Hence
/// |G|² = (L² + H² ω⁸) / (1 + ω⁸): the powers of a low-pass and a high-pass of 24 dB an octave added up, without a bump,
/// minimum-phase, and exactly 1 for L = H = 1. A gain may be 0.
/// </para>
/// <para>Bilinear transform, exact at the crossover.</para>
/// </remarks>
public static class GainCrossover
{
    /// <summary>Sections of the filter.</summary>
    public const int SectionCount = 2;

    private const int Order = 4;
    private const double HighestShare = 0.45;

    /// <summary>The filter's sections.</summary>
    /// <param name="lowGain">L, 0 or above.</param>
    /// <param name="highGain">H, 0 or above.</param>
    /// <param name="frequencyHz">Crossover; held below 0.45 of the sample rate.</param>
    /// <param name="sampleRate">Frames a second.</param>
    /// <param name="sections">Room for <see cref="SectionCount"/> sections.</param>
    public static void Design(double lowGain, double highGain, double frequencyHz, double sampleRate, Span<StateVariableCoefficients> sections)
    {
        double g = Math.Tan(Math.PI * Math.Min(frequencyHz, HighestShare * sampleRate) / sampleRate);
        double low = Math.Sqrt(lowGain);
        double high = Math.Sqrt(highGain);
        double middle = lowGain == highGain ? high : Math.Sqrt(low * high);
        for (int pair = 0; pair < SectionCount; pair++)
        {
            double k = 1 / Butterworth.PairQ(Order, pair);
            sections[pair] = new StateVariableCoefficients(g, k, high, k * (middle - high), low - high);
        }
    }
}
