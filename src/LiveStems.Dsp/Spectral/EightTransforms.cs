using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// The discrete Fourier transform of eight complex signals side by side in double precision: X[k] = Σ x[n]·e^(−2πi·kn/N),
/// unscaled, for sizes whose prime factors are 2, 3, 5 and 7.
/// </summary>
/// <remarks>
/// Each signal lies in a lane of its own (<see cref="EightComplex"/>), so no pass moves anything between lanes, and what one
/// signal holds never reaches another, not even as rounding. The inverse is had by exchanging real and imaginary parts before
/// and after. The constructor takes all memory for the tables; transforms allocate nothing and may share a plan.
/// </remarks>
internal sealed class EightTransforms
{
    private readonly int[] factors;
    private readonly AlignedMemory<double>[] turns;

    /// <exception cref="ArgumentOutOfRangeException">The size has a prime factor above 7.</exception>
    public EightTransforms(int size)
    {
        Size = size;
        factors = Factors(size) ?? throw new ArgumentOutOfRangeException(nameof(size), size, "prime factors of 2, 3, 5 and 7 are needed");
        turns = new AlignedMemory<double>[factors.Length];
        int length = size;
        for (int pass = 0; pass < factors.Length; pass++)
        {
            turns[pass] = Turns(length, factors[pass]);
            length /= factors[pass];
        }
    }

    /// <summary>Numbers of each signal.</summary>
    public int Size { get; }

    /// <summary>The radices of the passes, or null if the size has a prime factor above 7.</summary>
    public static int[]? Factors(int size)
    {
        List<int> factors = [];
        foreach (int prime in (int[])[7, 5, 3])
        {
            for (; size % prime == 0; size /= prime)
            {
                factors.Add(prime);
            }
        }

        int doublings = int.TrailingZeroCount(size);
        if (size != 1 << doublings)
        {
            return null;
        }

        // Eights, and fours for what is left: 16 = 4·4 costs less than 8·2.
        for (; doublings > 0 && doublings % 3 != 0; doublings -= doublings == 1 ? 1 : 2)
        {
            factors.Add(doublings == 1 ? 2 : 4);
        }

        factors.AddRange(Enumerable.Repeat(8, doublings / 3));
        factors.Reverse();
        return [.. factors];
    }

    /// <summary>Transforms what <paramref name="work"/> holds; returns which of both then holds the result.</summary>
    public AlignedMemory<double> Transform(AlignedMemory<double> work, AlignedMemory<double> spare)
    {
        int length = Size;
        int stride = 1;
        for (int pass = 0; pass < factors.Length; pass++)
        {
            int radix = factors[pass];
            ref double table = ref turns[pass].Start;
            if (length == radix)
            {
                Run<NoTurns>(radix, ref work.Start, ref spare.Start, ref table, length, stride);
            }
            else
            {
                Run<TableTurns>(radix, ref work.Start, ref spare.Start, ref table, length, stride);
            }

            length /= radix;
            stride *= radix;
            (work, spare) = (spare, work);
        }

        return work;
    }

    private static void Run<TTurns>(int radix, ref double source, ref double target, ref double table, int length, int stride)
        where TTurns : struct, IPassTurns
    {
        switch (radix)
        {
            case 8:
                EightPasses.Run<ButterflyOfEight, TTurns>(ref source, ref target, ref table, length, stride);
                break;
            case 7:
                EightPasses.Run<ButterflyOfSeven, TTurns>(ref source, ref target, ref table, length, stride);
                break;
            case 5:
                EightPasses.Run<ButterflyOfFive, TTurns>(ref source, ref target, ref table, length, stride);
                break;
            case 4:
                EightPasses.Run<ButterflyOfFour, TTurns>(ref source, ref target, ref table, length, stride);
                break;
            case 3:
                EightPasses.Run<ButterflyOfThree, TTurns>(ref source, ref target, ref table, length, stride);
                break;
            default:
                EightPasses.Run<ButterflyOfTwo, TTurns>(ref source, ref target, ref table, length, stride);
                break;
        }
    }

    private static AlignedMemory<double> Turns(int length, int radix)
    {
        AlignedMemory<double> table = new(2 * (radix - 1) * (length / radix));
        int at = 0;
        for (int p = 0; p < length / radix; p++)
        {
            for (int power = 1; power < radix; power++)
            {
                (double sine, double cosine) = TwiddleTables.Turn(-(long)p * power, length);
                table.Span[at++] = cosine;
                table.Span[at++] = sine;
            }
        }

        return table;
    }
}
