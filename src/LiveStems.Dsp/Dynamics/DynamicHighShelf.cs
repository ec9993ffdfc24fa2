using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Filters;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// A high shelf whose gain g is another one at every frame: H(s) = (g s² + √(2g) s + 1) / (s² + √2 s + 1), minimum phase, for
/// all g above 0.
/// </summary>
/// <remarks>
/// One state-variable filter (trapezoidal integrators; V. Zavalishin, "The Art of VA Filter Design", ch. 4, from memory) whose
/// poles do not depend on the gain: y = x − (1 − g) · high − (1 − √g) · √2 · band. At g = 1 the output is the input bit for bit, whatever
/// the state. The squared magnitude, (1 + g² w⁴) / (1 + w⁴) at w = frequency over corner, goes from 1 to g² without a bump (derived).
/// </remarks>
public sealed class DynamicHighShelf
{
    private const double LoudestSample = 1e6;

    private Vector128<double> bandState;
    private Vector128<double> lowState;
    private double a1;
    private double a2;
    private double a3;

    /// <summary>Sets the corner, Hz, below half the sample rate; the state stays.</summary>
    public void SetCorner(double frequencyHz, double sampleRate)
    {
        double g = Math.Tan(Math.PI * frequencyHz / sampleRate);
        a1 = 1 / (1 + g * (g + Math.Sqrt(2)));
        a2 = g * a1;
        a3 = g * a2;
    }

    /// <summary>The shelf's gain at a frequency in dB while it stands still.</summary>
    /// <param name="frequencyHz">The frequency, below half the sample rate.</param>
    /// <param name="cornerHz">The corner.</param>
    /// <param name="sampleRate">Frames a second.</param>
    /// <param name="topPower">The gain far above the corner, as a ratio of powers.</param>
    public static double GainDb(double frequencyHz, double cornerHz, double sampleRate, double topPower)
    {
        double w = Math.Tan(Math.PI * frequencyHz / sampleRate) / Math.Tan(Math.PI * cornerHz / sampleRate);
        double fourth = w * w * w * w;
        return Decibels.FromPower((1 + topPower * fourth) / (1 + fourth));
    }

    /// <summary>Silence before.</summary>
    public void Reset() => bandState = lowState = Vector128<double>.Zero;

    /// <summary>Sets state below 1e-20 to zero.</summary>
    public void FlushTinyState()
    {
        Vector128<double> tiny = Vector128.Create(1e-20);
        bandState &= Vector128.GreaterThan(Vector128.Abs(bandState), tiny);
        lowState &= Vector128.GreaterThan(Vector128.Abs(lowState), tiny);
    }

    /// <summary>
    /// Filters both channels in place with a gain for each frame. Samples that are not finite, or beyond ±1e6, become silence.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Process(Span<float> left, Span<float> right, ReadOnlySpan<float> gains)
    {
        Shelf shelf = new(a1, a2, a3, bandState, lowState);
        ref float l = ref MemoryMarshal.GetReference(left);
        ref float r = ref MemoryMarshal.GetReference(right[..left.Length]);
        ref float g = ref MemoryMarshal.GetReference(gains[..left.Length]);
        int n = 0;

        // Four frames are converted at once (see StereoRecursion).
        for (; n <= left.Length - 4; n += 4)
        {
            (Vector128<double> left01, Vector128<double> left23) = Vector128.Widen(Vector128.LoadUnsafe(ref l, (nuint)n));
            (Vector128<double> right01, Vector128<double> right23) = Vector128.Widen(Vector128.LoadUnsafe(ref r, (nuint)n));
            (Vector128<double> gain01, Vector128<double> gain23) = Vector128.Widen(Vector128.LoadUnsafe(ref g, (nuint)n));
            (Vector128<double> root01, Vector128<double> root23) = (Vector128.Sqrt(gain01), Vector128.Sqrt(gain23));
            Vector128<double> y0 = shelf.Next(Vector128.Create(left01.ToScalar(), right01.ToScalar()), gain01.ToScalar(), root01.ToScalar());
            Vector128<double> y1 = shelf.Next(Vector128.Create(left01[1], right01[1]), gain01[1], root01[1]);
            Vector128<double> y2 = shelf.Next(Vector128.Create(left23.ToScalar(), right23.ToScalar()), gain23.ToScalar(), root23.ToScalar());
            Vector128<double> y3 = shelf.Next(Vector128.Create(left23[1], right23[1]), gain23[1], root23[1]);
            OutputFloats.Narrow(Vector128.Create(y0.ToScalar(), y1.ToScalar()), Vector128.Create(y2.ToScalar(), y3.ToScalar())).StoreUnsafe(ref l, (nuint)n);
            OutputFloats.Narrow(Vector128.Create(y0[1], y1[1]), Vector128.Create(y2[1], y3[1])).StoreUnsafe(ref r, (nuint)n);
        }

        for (; n < left.Length; n++)
        {
            Vector128<double> y = shelf.Next(Vector128.Create((double)left[n], right[n]), gains[n], Math.Sqrt(gains[n]));
            left[n] = OutputFloats.Narrow(y.ToScalar());
            right[n] = OutputFloats.Narrow(y[1]);
        }

        bandState = shelf.Band;
        lowState = shelf.Low;
    }

    private struct Shelf(double a1, double a2, double a3, Vector128<double> band, Vector128<double> low)
    {
        public Vector128<double> Band = band;
        public Vector128<double> Low = low;
        private readonly Vector128<double> k1 = Vector128.Create(a1);
        private readonly Vector128<double> k2 = Vector128.Create(a2);
        private readonly Vector128<double> k3 = Vector128.Create(a3);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> x, double gain, double root)
        {
            x &= Vector128.LessThanOrEqual(Vector128.Abs(x), Vector128.Create(LoudestSample));
            Vector128<double> rest = x - Low;
            Vector128<double> v1 = Vector128.FusedMultiplyAdd(k1, Band, k2 * rest);
            Vector128<double> low = Low + Vector128.FusedMultiplyAdd(k2, Band, k3 * rest);
            Band = v1 + v1 - Band;
            Low = low + low - Low;
            Vector128<double> band = Vector128.Create(Math.Sqrt(2)) * v1;
            Vector128<double> high = x - low - band;
            Vector128<double> y = Vector128.FusedMultiplyAdd(Vector128.Create(gain - 1), high, x);
            return Vector128.FusedMultiplyAdd(Vector128.Create(root - 1), band, y);
        }
    }
}
