namespace LiveStems.Dsp.Filters;

/// <summary>
/// Butterworth filters as sections (S. Butterworth, 1930; pole pairs as in REFERENCES section 4, from memory and checked),
/// carried over by the bilinear transform: exact at the corner.
/// </summary>
public static class Butterworth
{
    /// <summary>
    /// Quality factor of a pole pair: 1 / (2 sin(π (2k − 1) / 2N)). An odd order has a real pole at the corner besides.
    /// </summary>
    /// <param name="order">Order N, at least 2.</param>
    /// <param name="pair">0 for the most resonant pair, to N/2 − 1.</param>
    public static double PairQ(int order, int pair) => 0.5 / Math.Sin(Math.PI * (2 * pair + 1) / (2.0 * order));

    /// <summary>Sections of a filter of an order: one for each pole pair, and one for the real pole of an odd order.</summary>
    public static int SectionCount(int order) => (order + 1) / 2;

    /// <summary>Low-pass, −3.01 dB at the corner.</summary>
    /// <param name="order">Order, at least 1.</param>
    /// <param name="frequencyHz">Corner, below half the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="sections">Room for <see cref="SectionCount"/> sections.</param>
    public static void LowPass(int order, double frequencyHz, double sampleRate, Span<BiquadCoefficients> sections)
    {
        for (int pair = 0; pair < order / 2; pair++)
        {
            sections[pair] = BiquadDesign.LowPass(frequencyHz, PairQ(order, pair), sampleRate);
        }

        if (order % 2 == 1)
        {
            double k = Math.Tan(Math.PI * frequencyHz / sampleRate);
            sections[order / 2] = BiquadCoefficients.Normalised(k, k, 0, k + 1, k - 1, 0);
        }
    }

    /// <summary>High-pass, −3.01 dB at the corner.</summary>
    /// <param name="order">Order, at least 1.</param>
    /// <param name="frequencyHz">Corner, below half the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="sections">Room for <see cref="SectionCount"/> sections.</param>
    public static void HighPass(int order, double frequencyHz, double sampleRate, Span<BiquadCoefficients> sections)
    {
        for (int pair = 0; pair < order / 2; pair++)
        {
            sections[pair] = BiquadDesign.HighPass(frequencyHz, PairQ(order, pair), sampleRate);
        }

        if (order % 2 == 1)
        {
            double k = Math.Tan(Math.PI * frequencyHz / sampleRate);
            sections[order / 2] = BiquadCoefficients.Normalised(1, -1, 0, k + 1, k - 1, 0);
        }
    }
}
