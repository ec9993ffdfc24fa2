using LiveStems.Dsp.Dynamics;

namespace LiveStems.Dsp.Space;

/// <summary>
/// Finds how far the side must come down for the correlation of left and right not to fall below a floor.
/// </summary>
/// <remarks>
/// <para>
/// Correlation ρ = Σ l r / √(Σ l² Σ r²) over a window (the trade's phase meter; common practice). With l = m + g s,
/// r = m − g s and the sums M = Σ m², S = Σ s², C = Σ m s, and q = g²:
/// ρ = (M − q S) / √((M + q S)² − 4 q C²). Setting ρ to the floor f and squaring gives
/// S² (1 − f²) q² − (2 M S (1 + f²) − 4 f² C²) q + M² (1 − f²) = 0, whose roots multiply to (M/S)². At the smaller one
/// ρ is positive, at the larger negative: the smaller is wanted for f ≥ 0, the larger for f below 0. Where g would be
/// above 1 nothing is done.
/// </para>
/// <para>
/// The window is one-pole with <see cref="WindowMs"/>; the gain comes down with <see cref="FallMs"/> and back with
/// <see cref="RiseMs"/>.
/// </para>
/// </remarks>
/// <param name="sampleRate">Frames a second.</param>
/// <param name="stepFrames">Frames from one <see cref="Step"/> to the next.</param>
public sealed class CorrelationGuard(double sampleRate, int stepFrames)
{
    /// <summary>τ of the window, ms.</summary>
    public const double WindowMs = 100;

    /// <summary>τ with which the gain falls, ms.</summary>
    public const double FallMs = 10;

    /// <summary>τ with which the gain rises, ms.</summary>
    public const double RiseMs = 300;

    /// <summary>The gain never falls below −24 dB, so that a sound with nothing in the mid is not lost.</summary>
    public const double LowestGain = 0.0630957344480193;

    private const double Silence = 1e-16;
    private const double Arrived = 1e-6;

    private readonly double windowPole = TimeConstant.Pole(WindowMs, sampleRate);
    private readonly double windowShare = 1 - TimeConstant.Pole(WindowMs, sampleRate);
    private readonly double fallShare = 1 - TimeConstant.Pole(FallMs, sampleRate / stepFrames);
    private readonly double riseShare = 1 - TimeConstant.Pole(RiseMs, sampleRate / stepFrames);
    private double middle;
    private double side;
    private double product;

    /// <summary>Gain of the side, <see cref="LowestGain"/> to 1.</summary>
    public double Gain { get; private set; } = 1;

    /// <summary>Silence before, gain 1.</summary>
    public void Reset()
    {
        middle = side = product = 0;
        Gain = 1;
    }

    /// <summary>Takes in finite sound before the gain; both spans have one length.</summary>
    public void Hear(ReadOnlySpan<float> middleSound, ReadOnlySpan<float> sideSound)
    {
        (double m, double s, double c) = (middle, side, product);
        for (int i = 0; i < middleSound.Length; i++)
        {
            // Only one operation waits for the frame before.
            double x = windowShare * middleSound[i];
            double y = sideSound[i];
            m = Math.FusedMultiplyAdd(windowPole, m, x * middleSound[i]);
            s = Math.FusedMultiplyAdd(windowPole, s, windowShare * y * y);
            c = Math.FusedMultiplyAdd(windowPole, c, x * y);
        }

        (middle, side, product) = (m, s, c);
    }

    /// <summary>Moves the gain by one step towards what the floor asks for.</summary>
    /// <param name="floor">Lowest correlation, −1 (never acts) to below 1.</param>
    public void Step(double floor)
    {
        double wanted = Math.Max(LowestGain, WantedGain(middle, side, product, floor));
        Gain += (wanted < Gain ? fallShare : riseShare) * (wanted - Gain);
        Gain = wanted == 1 && 1 - Gain < Arrived ? 1 : Gain;
    }

    /// <summary>Sets what no longer counts to zero.</summary>
    public void FlushTinyState()
    {
        middle = middle > 1e-30 ? middle : 0;
        side = side > 1e-30 ? side : 0;
        product = Math.Abs(product) > 1e-30 ? product : 0;
    }

    /// <summary>The gain of the side, 0 to 1, with which the correlation is no lower than the floor.</summary>
    internal static double WantedGain(double middle, double side, double product, double floor)
    {
        double square = floor * floor;
        double rest = 1 - square;
        if (floor <= -1 || middle + side < Silence || side <= 0)
        {
            return 1;
        }

        // The correlation as it is.
        double powers = (middle + side) * (middle + side) - 4 * product * product;
        if (powers > 0 && middle - side >= floor * Math.Sqrt(powers))
        {
            return 1;
        }

        double linear = 2 * middle * side * (1 + square) - 4 * square * product * product;

        // The discriminant in factors, the larger root, and the smaller one through their product: nothing cancels.
        double both = middle * side;
        double root = 4 * Math.Abs(floor) * Math.Sqrt(Math.Max(0, both - product * product) * Math.Max(0, both - square * product * product));
        double larger = (linear + root) / (2 * side * side * rest);
        double q = floor < 0 ? larger : larger > 0 ? middle * middle / (side * side * larger) : 0;
        return Math.Sqrt(Math.Clamp(q, 0, 1));
    }
}
