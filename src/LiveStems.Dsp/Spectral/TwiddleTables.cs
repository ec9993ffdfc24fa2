using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Spectral;

/// <summary>Factors on the unit circle, computed in double from angles reduced exactly, in the order of their use.</summary>
internal static class TwiddleTables
{
    /// <summary>For each radix-4 pass but the last: w^p, w^2p, w^3p of every p, re im each, w = e^(−2πi/length).</summary>
    public static IEnumerable<AlignedMemory<float>> Passes(int length)
    {
        for (; length > 4; length /= 4)
        {
            AlignedMemory<float> table = new(length / 4 * 6);
            for (int p = 0; p < length / 4; p++)
            {
                for (int power = 1; power <= 3; power++)
                {
                    (double im, double re) = Turn(-(long)p * power, length);
                    table.Span[6 * p + 2 * (power - 1)] = (float)re;
                    table.Span[6 * p + 2 * (power - 1) + 1] = (float)im;
                }
            }

            yield return table;
        }
    }

    /// <summary>For each block of eight bins k of a lane: e^(−2πi·k·lane/(8·length)), lanes 1 to 7, eight re then eight im.</summary>
    public static AlignedMemory<float> AcrossLanes(int length)
    {
        const int lanes = ComplexLanes.Count;
        AlignedMemory<float> table = new(length * 2 * (lanes - 1));
        for (int k = 0; k < length; k++)
        {
            for (int lane = 1; lane < lanes; lane++)
            {
                (double im, double re) = Turn(-(long)k * lane, lanes * length);
                int at = (k / lanes * (lanes - 1) + lane - 1) * ComplexLanes.Floats + k % lanes;
                table.Span[at] = (float)re;
                table.Span[at + lanes] = (float)im;
            }
        }

        return table;
    }

    /// <summary>e^(sign·2πi·k/size) times a scale for <paramref name="bins"/> bins k, in blocks of eight re then eight im.</summary>
    public static AlignedMemory<float> Turns(int size, int bins, int firstBin, int sign, double scale)
    {
        AlignedMemory<float> table = new(2 * bins);
        for (int i = 0; i < bins; i++)
        {
            (double im, double re) = Turn(sign * (long)(firstBin + i), size);
            int at = i / ComplexLanes.Count * ComplexLanes.Floats + i % ComplexLanes.Count;
            table.Span[at] = (float)(scale * re);
            table.Span[at + ComplexLanes.Count] = (float)(scale * im);
        }

        return table;
    }

    /// <summary>Sine and cosine of a fraction of a full turn; exact at its quarters.</summary>
    public static (double Sin, double Cos) Turn(long numerator, long denominator)
    {
        long eighths = ((numerator % denominator + denominator) % denominator) * 8;
        long octant = eighths / denominator;
        double angle = Math.PI / 4 * ((double)(eighths % denominator) / denominator);
        double mirrored = Math.PI / 4 * ((double)(denominator - eighths % denominator) / denominator);
        return octant switch
        {
            0 => Math.SinCos(angle),
            1 => (Math.Cos(mirrored), Math.Sin(mirrored)),
            2 => (Math.Cos(angle), -Math.Sin(angle)),
            3 => (Math.Sin(mirrored), -Math.Cos(mirrored)),
            4 => (-Math.Sin(angle), -Math.Cos(angle)),
            5 => (-Math.Cos(mirrored), -Math.Sin(mirrored)),
            6 => (-Math.Cos(angle), Math.Sin(angle)),
            _ => (-Math.Sin(mirrored), Math.Cos(mirrored)),
        };
    }
}
