using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Loudness;

/// <summary>
/// Finds the largest magnitude of a signal on a grid four times as fine (BS.1770-5 Annex 2), sixteen frames at a time in two
/// time vectors.
/// </summary>
/// <remarks>
/// The interpolator is a <see cref="FractionalDelay"/> of 24 taps up to 0.45 of the sample rate: at 48 kHz within 0.036 dB
/// at the quarter points and 0.062 dB half-way, up to 20 kHz. The response half-way is symmetric and those at the quarters
/// mirror each other, so from sums and differences of mirrored samples the quarters are E ± O, the larger of them is
/// |E| + |O|, and half the multiplications go. Every lane is computed alike, so nothing depends on where a block starts.
/// </remarks>
internal sealed class PeakInterpolator
{
    /// <summary>Frames looked at together.</summary>
    public const int FramesPerGroup = 16;

    /// <summary>Samples that the interpolator looks back from a frame.</summary>
    public const int History = Taps - 1;

    private const int Taps = 24;
    private const int Pairs = Taps / 2;
    private const double BandEdge = 0.45;

    // The taps in single precision and the rounding of 24 products: 24 · 2^-23 and less.
    private const double RoundingRoom = 1.00001;

    // For each pair of mirrored samples: even part and odd part of the quarter point's taps, and the half-way tap.
    private readonly float[] taps = new float[3 * Pairs];

    public PeakInterpolator()
    {
        double[] halfway = FractionalDelay.Design(Taps, 0.5, BandEdge);
        double[] quarter = FractionalDelay.Design(Taps, 0.25, BandEdge);
        for (int k = 0; k < Pairs; k++)
        {
            int mirror = Taps - 1 - k;
            taps[3 * k] = (float)((quarter[k] + quarter[mirror]) / 2);
            taps[3 * k + 1] = (float)((quarter[k] - quarter[mirror]) / 2);
            taps[3 * k + 2] = (float)((halfway[k] + halfway[mirror]) / 2);
        }

        LargestGain = (float)(RoundingRoom * Math.Max(SumOfSizes(halfway), SumOfSizes(quarter)));
    }

    /// <summary>No value between samples is above this times the largest sample that it is made of: the sum of the taps' magnitudes.</summary>
    public float LargestGain { get; }

    /// <summary>
    /// The largest magnitude between the samples, from <paramref name="atLeast"/> up. What is not a number is passed over.
    /// </summary>
    /// <param name="samples"><see cref="History"/> samples, then the new ones: a whole number of groups.</param>
    /// <param name="atLeast">What is known already.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public float Largest(ReadOnlySpan<float> samples, float atLeast)
    {
        ref float sample = ref MemoryMarshal.GetReference(samples);
        ref float tap = ref MemoryMarshal.GetArrayDataReference(taps);
        int frames = samples.Length - History;
        if (Vector512.IsHardwareAccelerated)
        {
            Vector512<float> largestOfSixteen = Vector512.Create(atLeast);
            for (int n = 0; n < frames; n += FramesPerGroup)
            {
                largestOfSixteen = LargestOfSixteen(ref Unsafe.Add(ref sample, n), ref tap, largestOfSixteen);
            }

            return Magnitude.LargestLane(Vector256.Max(largestOfSixteen.GetLower(), largestOfSixteen.GetUpper()));
        }

        Vector256<float> largest = Vector256.Create(atLeast);
        for (int n = 0; n < frames; n += FramesPerGroup)
        {
            largest = LargestInGroup(ref Unsafe.Add(ref sample, n), ref tap, largest);
        }

        return Magnitude.LargestLane(largest);
    }

    // The operations of LargestInGroup in one vector of sixteen frames.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> LargestOfSixteen(ref float sample, ref float tap, Vector512<float> largest)
    {
        ref float early = ref sample;
        ref float late = ref Unsafe.Add(ref sample, Taps - 1);
        ref float end = ref Unsafe.Add(ref tap, 3 * Pairs);
        Vector512<float> even = default, odd = default, half = default;
        while (Unsafe.IsAddressLessThan(ref tap, ref end))
        {
            Vector512<float> before = Vector512.LoadUnsafe(ref early);
            Vector512<float> after = Vector512.LoadUnsafe(ref late);
            Vector512<float> sum = before + after;
            even = Vector512.FusedMultiplyAdd(Vector512.Create(tap), sum, even);
            odd = Vector512.FusedMultiplyAdd(Vector512.Create(Unsafe.Add(ref tap, 1)), before - after, odd);
            half = Vector512.FusedMultiplyAdd(Vector512.Create(Unsafe.Add(ref tap, 2)), sum, half);
            early = ref Unsafe.Add(ref early, 1);
            late = ref Unsafe.Add(ref late, -1);
            tap = ref Unsafe.Add(ref tap, 3);
        }

        return Larger(Vector512.Abs(half), Larger(Vector512.Abs(even) + Vector512.Abs(odd), largest));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Larger(Vector512<float> candidate, Vector512<float> largest) =>
        Vector512.ConditionalSelect(Vector512.GreaterThan(candidate, largest), candidate, largest);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> LargestInGroup(ref float sample, ref float tap, Vector256<float> largest)
    {
        ref float early = ref sample;
        ref float late = ref Unsafe.Add(ref sample, Taps - 1);
        ref float end = ref Unsafe.Add(ref tap, 3 * Pairs);
        Vector256<float> even0 = default, even1 = default, odd0 = default, odd1 = default, half0 = default, half1 = default;
        while (Unsafe.IsAddressLessThan(ref tap, ref end))
        {
            Vector256<float> early0 = Vector256.LoadUnsafe(ref early);
            Vector256<float> early1 = Vector256.LoadUnsafe(ref early, (nuint)Vector256<float>.Count);
            Vector256<float> late0 = Vector256.LoadUnsafe(ref late);
            Vector256<float> late1 = Vector256.LoadUnsafe(ref late, (nuint)Vector256<float>.Count);
            Vector256<float> sum0 = early0 + late0, sum1 = early1 + late1;
            Vector256<float> evenTap = Vector256.Create(tap);
            Vector256<float> oddTap = Vector256.Create(Unsafe.Add(ref tap, 1));
            Vector256<float> halfTap = Vector256.Create(Unsafe.Add(ref tap, 2));
            even0 = Vector256.FusedMultiplyAdd(evenTap, sum0, even0);
            even1 = Vector256.FusedMultiplyAdd(evenTap, sum1, even1);
            odd0 = Vector256.FusedMultiplyAdd(oddTap, early0 - late0, odd0);
            odd1 = Vector256.FusedMultiplyAdd(oddTap, early1 - late1, odd1);
            half0 = Vector256.FusedMultiplyAdd(halfTap, sum0, half0);
            half1 = Vector256.FusedMultiplyAdd(halfTap, sum1, half1);
            early = ref Unsafe.Add(ref early, 1);
            late = ref Unsafe.Add(ref late, -1);
            tap = ref Unsafe.Add(ref tap, 3);
        }

        largest = Magnitude.Larger(Vector256.Abs(even0) + Vector256.Abs(odd0), largest);
        largest = Magnitude.Larger(Vector256.Abs(even1) + Vector256.Abs(odd1), largest);
        largest = Magnitude.Larger(Vector256.Abs(half0), largest);
        return Magnitude.Larger(Vector256.Abs(half1), largest);
    }

    private static double SumOfSizes(double[] numbers)
    {
        double sum = 0;
        foreach (double number in numbers)
        {
            sum += Math.Abs(number);
        }

        return sum;
    }
}
