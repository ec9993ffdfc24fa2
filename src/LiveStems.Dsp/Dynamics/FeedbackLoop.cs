using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The attack stage of a feed-back compressor, two channels side by side: the detector hears the sound behind the gain,
/// and the loop is solved without a delay in it.
/// </summary>
/// <remarks>
/// <para>
/// Behind a gain of −r dB the level is x − r, so the loop need not wait for the output. Let C be the static curve
/// (<see cref="GainComputer"/>, as reduction) and F the curve inside the loop, which gives F(x − r) = r exactly when
/// r = C(x). A smoother of pole α in the loop is r[n] = α r[n−1] + (1 − α) F(x − r[n]). Name u the level whose static
/// output is x − r[n], that is u − C(u) = x − r[n] and F = C(u). Then
/// </para>
/// <para>
/// u − α C(u) = x − α r[n−1] and r[n] = α r[n−1] + (1 − α) C(u).
/// </para>
/// <para>
/// The left side rises with u: linear, quadratic in the knee, linear again. So there is one solution for every α below 1
/// and every ratio up to ∞, and the loop is stable at any setting; with one sample of delay it would ring once (1 − α) R
/// passes 2.
/// </para>
/// <para>
/// Above the knee r moves with τ/R (for τ of many samples): the harder the curve, the sooner the loop closes; low in the
/// knee it moves with τ itself. The release stage stands before the loop, as the rectifier does in a circuit, and x is
/// the level whose static reduction it holds.
/// </para>
/// </remarks>
public sealed class FeedbackLoop
{
    private Vector128<double> reduction;
    private double pole;
    private double slope;
    private double knee;

    /// <summary>Reduction of the two channels after the last sample, dB.</summary>
    public (double Left, double Right) ReductionDb => (reduction[0], reduction[1]);

    /// <summary>True when both channels are in the same state, so that one of them speaks for both.</summary>
    public bool ChannelsAgree => reduction[0] == reduction[1];

    /// <summary>Sets the attack of the smoother in the loop (τ) and the curve; the state stays.</summary>
    public void Set(double attackMs, in GainComputer curve, double sampleRate)
    {
        pole = TimeConstant.Pole(attackMs, sampleRate);
        slope = curve.Slope;
        knee = curve.KneeDb;
    }

    /// <summary>Starts from a given reduction, dB.</summary>
    public void Reset((double Left, double Right) reductionDb) =>
        reduction = Vector128.Create(reductionDb.Left, reductionDb.Right);

    /// <summary>Sets state below 1e-20 dB to zero.</summary>
    public void FlushTinyState() => reduction &= Vector128.GreaterThan(reduction, Vector128.Create(1e-20));

    /// <summary>
    /// Turns, in place, the static reduction that the release stage holds into the reduction of the loop. The two spans
    /// have one length and may be the same memory when the channels are linked.
    /// </summary>
    public void Process(Span<float> leftDb, Span<float> rightDb)
    {
        Vector128<double> zero = Vector128<double>.Zero;
        Vector128<double> one = Vector128<double>.One;
        Vector128<double> r = reduction;
        Vector128<double> alpha = Vector128.Create(pole);
        Vector128<double> share = one - alpha;
        Vector128<double> s = Vector128.Create(slope);
        Vector128<double> perSlope = Vector128.Create(slope > 0 ? 1 / slope : 0);
        Vector128<double> width = Vector128.Create(knee);
        Vector128<double> halfWidth = Vector128.Create(knee / 2);
        Vector128<double> curvature = Vector128.Create(knee > 0 ? 1 / (2 * knee) : 0);
        Vector128<double> kneeReduction = Vector128.Create(slope * knee / 2);
        Vector128<double> kneeEnd = Vector128.Create(knee * (1 - pole * slope / 2));
        Vector128<double> fourCurvature = Vector128.Create(knee > 0 ? 2 * pole * slope / knee : 0);
        Vector128<double> lineOffset = Vector128.Create(pole * slope * knee / 2);
        Vector128<double> lineGain = Vector128.Create(1 / (1 - pole * slope));
        for (int i = 0; i < leftDb.Length; i++)
        {
            // Levels count from the foot of the knee; this one is where the static curve gives the held reduction.
            Vector128<double> held = Vector128.Create((double)leftDb[i], rightDb[i]);
            Vector128<double> level = Vector128.ConditionalSelect(
                Vector128.LessThanOrEqual(held, kneeReduction),
                Vector128.Sqrt((width + width) * held * perSlope),
                Vector128.FusedMultiplyAdd(held, perSlope, halfWidth));

            Vector128<double> left = level - alpha * r;
            Vector128<double> root = Vector128.Sqrt(Vector128.MaxNative(zero, one - fourCurvature * left));
            Vector128<double> u = Vector128.ConditionalSelect(
                Vector128.LessThan(left, kneeEnd), (left + left) / (one + root), (left - lineOffset) * lineGain);
            u = Vector128.MaxNative(zero, u);
            Vector128<double> inKnee = Vector128.MinNative(u, width);
            Vector128<double> wanted = s * Vector128.FusedMultiplyAdd(inKnee * inKnee, curvature, u - inKnee);
            r = Vector128.FusedMultiplyAdd(alpha, r, share * wanted);
            rightDb[i] = (float)r[1];
            leftDb[i] = (float)r.ToScalar();
        }

        reduction = r;
    }
}
