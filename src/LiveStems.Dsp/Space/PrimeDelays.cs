namespace LiveStems.Dsp.Space;

/// <summary>
/// Delay lengths for reverberators: prime numbers, so that no two have a common divisor and their echoes fall together as
/// late as can be (M. R. Schroeder, JAES 10, 1962).
/// </summary>
internal static class PrimeDelays
{
    /// <summary>
    /// As many different primes as there are places, each the nearest free one to a wish; wishes are taken in order.
    /// </summary>
    /// <param name="wishes">Frames, from 2.</param>
    /// <param name="delays">The primes, one for each wish.</param>
    public static void Fill(ReadOnlySpan<double> wishes, Span<int> delays)
    {
        for (int place = 0; place < delays.Length; place++)
        {
            int wish = Math.Max(2, (int)Math.Round(wishes[place]));
            int distance = 0;
            while (!IsFree(wish - distance, delays[..place]) && !IsFree(wish + distance, delays[..place]))
            {
                distance++;
            }

            delays[place] = IsFree(wish - distance, delays[..place]) ? wish - distance : wish + distance;
        }
    }

    private static bool IsFree(int number, ReadOnlySpan<int> taken) => IsPrime(number) && !taken.Contains(number);

    private static bool IsPrime(int number)
    {
        for (int divisor = 2; divisor * divisor <= number; divisor++)
        {
            if (number % divisor == 0)
            {
                return false;
            }
        }

        return number > 1;
    }
}
