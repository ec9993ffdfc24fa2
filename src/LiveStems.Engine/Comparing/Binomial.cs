using System.Numerics;

namespace LiveStems.Engine.Comparing;

/// <summary>Chances of guessing.</summary>
public static class Binomial
{
    /// <summary>
    /// The chance, 0 to 1, of at least so many hits in n tries of which each hits with ½: Σ C(n, k) / 2ⁿ for k from the hits
    /// to n, summed in whole numbers, so exact but for the last division.
    /// </summary>
    /// <param name="hits">Hits, 0 to <paramref name="tries"/>.</param>
    /// <param name="tries">Tries, 0 to 1000.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of its range.</exception>
    public static double AtLeast(int hits, int tries)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(tries);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(tries, 1000);
        ArgumentOutOfRangeException.ThrowIfNegative(hits);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(hits, tries);
        BigInteger combinations = 1;
        BigInteger sum = 0;
        for (int k = tries; k >= hits; k--)
        {
            // C(n, n) = 1, and C(n, k − 1) = C(n, k) · k / (n − k + 1).
            sum += combinations;
            combinations = combinations * k / (tries - k + 1);
        }

        return (double)sum / Math.Pow(2, tries);
    }
}
