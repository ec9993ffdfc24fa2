using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dither;

/// <summary>
/// Rounds planar stereo to whole numbers of a given size after adding noise of triangular density, 2 steps peak to peak:
/// the error then has mean 0 and the constant power q²/4 whatever the signal does.
/// </summary>
/// <remarks>
/// Lipshitz, Wannamaker and Vanderkooy, "Quantization and Dither: A Theoretical Survey", JAES 40(5), 1992. Each noise
/// value is a hash of its frame number (the finaliser of MurmurHash3, A. Appleby, public domain), so the result does not
/// depend on block lengths and is the same every time for one seed; the channels are independent.
/// </remarks>
public sealed class TriangularDither
{
    private const double UnitOfNoise = 1.0 / (1 << 24);

    private readonly double steps;
    private readonly double step;
    private readonly uint leftSeed;
    private readonly uint rightSeed;
    private uint frame;

    /// <summary>Dithers to whole numbers of 8 to 24 bits; larger ones are finer than the samples themselves.</summary>
    /// <param name="bits">Bits of a whole number.</param>
    /// <param name="seed">Any number; the same one gives the same noise.</param>
    /// <exception cref="ArgumentOutOfRangeException">The bits are outside 8 to 24.</exception>
    public TriangularDither(int bits, ulong seed)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(bits, 8);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(bits, 24);
        steps = Math.ScaleB(1, bits - 1);
        step = 1 / steps;
        leftSeed = (uint)seed;
        rightSeed = (uint)(seed >> 32) ^ 0x9E37_79B9;
    }

    /// <summary>
    /// Dithers the next frames in place: every sample becomes a whole multiple of a step. What lies outside full scale stays
    /// there, for the writer to cut and count.
    /// </summary>
    public void Process(Span<float> left, Span<float> right)
    {
        Process(left, frame, leftSeed);
        Process(right, frame, rightSeed);
        frame += (uint)left.Length;
    }

    /// <summary>Starts the noise again from its beginning.</summary>
    public void Reset() => frame = 0;

    private void Process(Span<float> samples, uint firstFrame, uint seed)
    {
        int i = 0;
        for (; EightRows.IsSupported && i <= samples.Length - 16; i += 16)
        {
            QuantiseSixteen(ref samples[i], firstFrame + (uint)i, seed);
        }

        for (; i <= samples.Length - 8; i += 8)
        {
            Vector256<float> dithered = Quantise(Vector256.Create<float>(samples.Slice(i, 8)), firstFrame + (uint)i, seed);
            dithered.CopyTo(samples[i..]);
        }

        if (i < samples.Length)
        {
            Span<float> rest = stackalloc float[8];
            samples[i..].CopyTo(rest);
            Quantise(Vector256.Create<float>(rest), firstFrame + (uint)i, seed).CopyTo(rest);
            rest[..(samples.Length - i)].CopyTo(samples[i..]);
        }
    }

    private Vector256<float> Quantise(Vector256<float> samples, uint firstFrame, uint seed)
    {
        Vector256<uint> frames = Vector256.Create(firstFrame) + Vector256<uint>.Indices;
        Vector256<uint> first = Hash((frames + frames) ^ Vector256.Create(seed));
        Vector256<uint> second = Hash((frames + frames + Vector256<uint>.One) ^ Vector256.Create(seed));

        // Two uniform numbers of 24 bits; their sum, centred, is triangular between −1 and +1 step.
        Vector256<int> sum = ((first >>> 8) + (second >>> 8)).AsInt32() - Vector256.Create(1 << 24);
        (Vector256<double> lower, Vector256<double> upper) = Vector256.Widen(samples);
        return Vector256.Narrow(Quantise(lower, sum.GetLower()), Quantise(upper, sum.GetUpper()));
    }

    // As Quantise, in vectors twice as long.
    private void QuantiseSixteen(ref float samples, uint firstFrame, uint seed)
    {
        Vector512<uint> frames = Vector512.Create(firstFrame) + Vector512<uint>.Indices;
        Vector512<uint> first = Hash((frames + frames) ^ Vector512.Create(seed));
        Vector512<uint> second = Hash((frames + frames + Vector512<uint>.One) ^ Vector512.Create(seed));
        Vector512<int> sum = ((first >>> 8) + (second >>> 8)).AsInt32() - Vector512.Create(1 << 24);
        Vector512<double> lower = EightRows.Widen(Vector256.LoadUnsafe(ref samples)) * steps + EightRows.Widen(sum.GetLower()) * UnitOfNoise;
        Vector512<double> upper = EightRows.Widen(Vector256.LoadUnsafe(ref samples, 8)) * steps + EightRows.Widen(sum.GetUpper()) * UnitOfNoise;
        EightRows.Narrow(Vector512.Round(lower) * step).StoreUnsafe(ref samples);
        EightRows.Narrow(Vector512.Round(upper) * step).StoreUnsafe(ref samples, 8);
    }

    private Vector256<double> Quantise(Vector256<double> samples, Vector128<int> noise)
    {
        (Vector128<long> lower, Vector128<long> upper) = Vector128.Widen(noise);
        Vector256<double> steady = Vector256.ConvertToDouble(Vector256.Create(lower, upper)) * UnitOfNoise;
        return Vector256.Round(samples * steps + steady) * step;
    }

    /// <summary>The noise of one frame in steps, −1 to +1, triangular.</summary>
    internal static double Noise(uint frame, uint seed)
    {
        uint first = Hash((2 * frame) ^ seed);
        uint second = Hash((2 * frame + 1) ^ seed);
        return ((int)((first >>> 8) + (second >>> 8)) - (1 << 24)) * UnitOfNoise;
    }

    private static uint Hash(uint value)
    {
        value ^= value >>> 16;
        value *= 0x85EB_CA6B;
        value ^= value >>> 13;
        value *= 0xC2B2_AE35;
        return value ^ (value >>> 16);
    }

    private static Vector256<uint> Hash(Vector256<uint> value)
    {
        value ^= value >>> 16;
        value *= Vector256.Create(0x85EB_CA6Bu);
        value ^= value >>> 13;
        value *= Vector256.Create(0xC2B2_AE35u);
        return value ^ (value >>> 16);
    }

    private static Vector512<uint> Hash(Vector512<uint> value)
    {
        value ^= value >>> 16;
        value *= Vector512.Create(0x85EB_CA6Bu);
        value ^= value >>> 13;
        value *= Vector512.Create(0xC2B2_AE35u);
        return value ^ (value >>> 16);
    }
}
