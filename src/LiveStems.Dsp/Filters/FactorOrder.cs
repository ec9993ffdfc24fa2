namespace LiveStems.Dsp.Filters;

/// <summary>Finds which factor of a new design continues which of an earlier one: the pairing that moves them least.</summary>
internal static class FactorOrder
{
    private static ReadOnlySpan<byte> Orders => [0, 1, 2, 0, 2, 1, 1, 0, 2, 1, 2, 0, 2, 0, 1, 2, 1, 0];

    /// <summary>Puts three factors in the order of those before them.</summary>
    public static void Follow(ReadOnlySpan<BilinearFactor> before, Span<BilinearFactor> factors)
    {
        Span<double> distances = stackalloc double[FrequencyMap.Degree * FrequencyMap.Degree];
        for (int i = 0; i < distances.Length; i++)
        {
            distances[i] = Distance(before[i / FrequencyMap.Degree], factors[i % FrequencyMap.Degree]);
        }

        int best = 0;
        double least = double.PositiveInfinity;
        for (int start = 0; start < Orders.Length; start += FrequencyMap.Degree)
        {
            double distance = distances[Orders[start]] + distances[3 + Orders[start + 1]] + distances[6 + Orders[start + 2]];
            if (distance < least)
            {
                (least, best) = (distance, start);
            }
        }

        (factors[0], factors[1], factors[2]) = (factors[Orders[best]], factors[Orders[best + 1]], factors[Orders[best + 2]]);
    }

    private static double Distance(in BilinearFactor a, in BilinearFactor b) =>
        Apart(a.Linear, b.Linear) + Apart(a.Constant, b.Constant);

    // How far apart two numbers of 0 or above are, beside their size: 0 to 1.
    private static double Apart(double a, double b) => a + b == 0 ? 0 : Math.Abs(a - b) / (a + b);
}
