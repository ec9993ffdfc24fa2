namespace LiveStems.Dsp.Filters;

/// <summary>Butterworth filters as second-order sections (S. Butterworth, 1930; pole angles as in REFERENCES section 4).</summary>
public static class Butterworth
{
    /// <summary>
    /// Quality factor of a pole pair: 1 / (2 sin(π (2k − 1) / 2N)). An odd order has a real pole at the corner besides.
    /// </summary>
    /// <param name="order">Order N, at least 2.</param>
    /// <param name="pair">0 for the most resonant pair, to N/2 − 1.</param>
    public static double PairQ(int order, int pair) => 0.5 / Math.Sin(Math.PI * (2 * pair + 1) / (2.0 * order));
}
