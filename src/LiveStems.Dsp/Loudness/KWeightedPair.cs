using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Loudness;

/// <summary>
/// K-weights two channels as the two lanes of one vector and sums their squares (BS.1770-5 Annex 1, equations 1 and 2
/// before the logarithm).
/// </summary>
/// <remarks>
/// Direct form I: each stage's recursion is one fused multiply-add from one frame to the next, half the chain of the
/// transposed form, and its state is the signals themselves. All in double precision.
/// </remarks>
internal sealed class KWeightedPair
{
    private const double TinyState = 1e-20;

    private readonly Vector128<double> shelfB0;
    private readonly Vector128<double> shelfB1;
    private readonly Vector128<double> shelfB2;
    private readonly Vector128<double> minusShelfA1;
    private readonly Vector128<double> minusShelfA2;
    private readonly Vector128<double> minusHighPassA1;
    private readonly Vector128<double> minusHighPassA2;
    private readonly Vector128<double> energyWeights;

    private Vector128<double> input1;
    private Vector128<double> input2;
    private Vector128<double> shelf1;
    private Vector128<double> shelf2;
    private Vector128<double> output1;
    private Vector128<double> output2;
    private Vector128<double> energy;

    /// <param name="weighting">The filter.</param>
    /// <param name="firstWeight">Weight of the first channel's energy (BS.1770-5 Table 3: 1 in front, 1.41 at the sides).</param>
    /// <param name="secondWeight">Weight of the second channel's energy.</param>
    public KWeightedPair(in KWeighting weighting, double firstWeight, double secondWeight)
    {
        shelfB0 = Vector128.Create(weighting.Shelf.B0);
        shelfB1 = Vector128.Create(weighting.Shelf.B1);
        shelfB2 = Vector128.Create(weighting.Shelf.B2);
        minusShelfA1 = Vector128.Create(-weighting.Shelf.A1);
        minusShelfA2 = Vector128.Create(-weighting.Shelf.A2);
        minusHighPassA1 = Vector128.Create(-weighting.HighPassA1);
        minusHighPassA2 = Vector128.Create(-weighting.HighPassA2);

        // The gain of the high-pass is left out of the signal and put into the energy.
        double squaredGain = weighting.HighPassGain * weighting.HighPassGain;
        energyWeights = Vector128.Create(firstWeight, secondWeight) * squaredGain;
    }

    /// <summary>Filters frames and adds their squares to the energy.</summary>
    public void Add(ReadOnlySpan<float> first, ReadOnlySpan<float> second)
    {
        ref float firstSample = ref MemoryMarshal.GetReference(first);
        ref float secondSample = ref MemoryMarshal.GetReference(second);

        Vector128<double> b0 = shelfB0, b1 = shelfB1, b2 = shelfB2, a1 = minusShelfA1, a2 = minusShelfA2;
        Vector128<double> c1 = minusHighPassA1, c2 = minusHighPassA2;
        Vector128<double> x1 = input1, x2 = input2, y1 = shelf1, y2 = shelf2, z1 = output1, z2 = output2;
        Vector128<double> d1 = y1 - y2, sum = energy;

        int n = 0;
        for (; n <= first.Length - 4; n += 4)
        {
            (Vector128<float> early, Vector128<float> late) = StereoLanes.Interleave(
                Vector128.LoadUnsafe(ref firstSample, (nuint)n),
                Vector128.LoadUnsafe(ref secondSample, (nuint)n));

            // Two frames at a time: the newest value takes the place of the oldest, so nothing has to be moved along.
            Vector128<double> x = Vector128.WidenLower(early);
            y2 = Recursion(a1, y1, a2, y2, Numerator(b0, x, b1, x1, b2, x2));
            x2 = x;
            Vector128<double> d = y2 - y1;
            z2 = Recursion(c1, z1, c2, z2, d - d1);
            sum = Vector128.FusedMultiplyAdd(z2, z2, sum);

            x = Vector128.WidenUpper(early);
            y1 = Recursion(a1, y2, a2, y1, Numerator(b0, x, b1, x2, b2, x1));
            x1 = x;
            d1 = y1 - y2;
            z1 = Recursion(c1, z2, c2, z1, d1 - d);
            sum = Vector128.FusedMultiplyAdd(z1, z1, sum);

            x = Vector128.WidenLower(late);
            y2 = Recursion(a1, y1, a2, y2, Numerator(b0, x, b1, x1, b2, x2));
            x2 = x;
            d = y2 - y1;
            z2 = Recursion(c1, z1, c2, z2, d - d1);
            sum = Vector128.FusedMultiplyAdd(z2, z2, sum);

            x = Vector128.WidenUpper(late);
            y1 = Recursion(a1, y2, a2, y1, Numerator(b0, x, b1, x2, b2, x1));
            x1 = x;
            d1 = y1 - y2;
            z1 = Recursion(c1, z2, c2, z1, d1 - d);
            sum = Vector128.FusedMultiplyAdd(z1, z1, sum);
        }

        for (; n < first.Length; n++)
        {
            Vector128<double> x = Vector128.Create((double)Unsafe.Add(ref firstSample, n), Unsafe.Add(ref secondSample, n));
            Vector128<double> y = Recursion(a1, y1, a2, y2, Numerator(b0, x, b1, x1, b2, x2));
            Vector128<double> d = y - y1;
            Vector128<double> z = Recursion(c1, z1, c2, z2, d - d1);
            sum = Vector128.FusedMultiplyAdd(z, z, sum);
            (x2, x1, y2, y1, z2, z1, d1) = (x1, x, y1, y, z1, z, d);
        }

        (input1, input2, shelf1, shelf2, output1, output2, energy) = (x1, x2, y1, y2, z1, z2, sum);
    }

    /// <summary>
    /// The weighted energy (sum of squares) since the last call, which starts the next sum. State that has died away is
    /// set to zero here, so call it at moments that depend on the frame count alone.
    /// </summary>
    /// <returns>The energy; 0 when samples that are not finite spoilt it, and the filter then starts from silence.</returns>
    public double TakeEnergy()
    {
        double taken = Vector128.Sum(energy * energyWeights);
        energy = Vector128<double>.Zero;
        if (!double.IsFinite(taken))
        {
            Reset();
            return 0;
        }

        (shelf1, shelf2) = (WithoutTiny(shelf1), WithoutTiny(shelf2));
        (output1, output2) = (WithoutTiny(output1), WithoutTiny(output2));
        return taken;
    }

    /// <summary>State as if from silence.</summary>
    public void Reset()
    {
        input1 = input2 = shelf1 = shelf2 = output1 = output2 = energy = Vector128<double>.Zero;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<double> Numerator(
        Vector128<double> b0, Vector128<double> x, Vector128<double> b1, Vector128<double> x1, Vector128<double> b2, Vector128<double> x2) =>
        Vector128.FusedMultiplyAdd(b0, x, Vector128.FusedMultiplyAdd(b1, x1, b2 * x2));

    // What is known earlier goes first, so that only one operation waits for the previous frame.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<double> Recursion(
        Vector128<double> a1, Vector128<double> y1, Vector128<double> a2, Vector128<double> y2, Vector128<double> input) =>
        Vector128.FusedMultiplyAdd(a1, y1, Vector128.FusedMultiplyAdd(a2, y2, input));

    private static Vector128<double> WithoutTiny(Vector128<double> state) =>
        Vector128.GreaterThanOrEqual(Vector128.Abs(state), Vector128.Create(TinyState)) & state;
}
