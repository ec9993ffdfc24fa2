using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

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
    private Step step;

    /// <summary>Reduction of the two channels after the last sample, dB.</summary>
    public (double Left, double Right) ReductionDb => (step.Reduction.ToScalar(), step.Reduction.GetElement(1));

    /// <summary>True when both channels are in the same state, so that one of them speaks for both.</summary>
    public bool ChannelsAgree => step.Reduction.ToScalar() == step.Reduction.GetElement(1);

    /// <summary>Sets the attack of the smoother in the loop (τ) and the curve; the state stays.</summary>
    public void Set(double attackMs, in GainComputer curve, double sampleRate)
    {
        double pole = TimeConstant.Pole(attackMs, sampleRate);
        double slope = curve.Slope;
        double knee = curve.KneeDb;
        step.Alpha = Vector128.Create(pole);
        step.Share = Vector128.Create(1 - pole);
        step.Slope = Vector128.Create(slope);
        step.PerSlope = Vector128.Create(slope > 0 ? 1 / slope : 0);
        step.Knee = Vector128.Create(knee);
        step.Curvature = Vector128.Create(knee > 0 ? 1 / (2 * knee) : 0);
        step.KneeReduction = Vector128.Create(slope * knee / 2);
        // u = (1 − √(1 − 4 k d)) / 2k with k = α S/2W; without a bend every level is beyond it.
        bool bends = knee > 0 && slope > 0;
        double k = bends ? pole * slope / (2 * knee) : 0;
        step.KneeEnd = Vector128.Create(bends && pole > 0 ? knee * (1 - pole * slope / 2) : double.NegativeInfinity);
        step.FourK = Vector128.Create(4 * k);
        step.PerTwoK = Vector128.Create(k > 0 ? 1 / (2 * k) : 0);
        step.LineOffset = Vector128.Create(pole * slope * knee / 2);
        step.LineGain = Vector128.Create(1 / (1 - pole * slope));
    }

    /// <summary>Starts from a given reduction, dB.</summary>
    public void StartFrom((double Left, double Right) reductionDb) =>
        step.Reduction = Vector128.Create(reductionDb.Left, reductionDb.Right);

    /// <summary>Sets state below 1e-20 dB to zero.</summary>
    public void FlushTinyState() =>
        step.Reduction &= Vector128.GreaterThan(step.Reduction, Vector128.Create(1e-20));

    /// <summary>
    /// Turns, in place, the static reduction that the release stage holds into the reduction of the loop. The spans have
    /// one length and may be the same memory when the channels are linked.
    /// </summary>
    public void Process(Span<float> leftDb, Span<float> rightDb) =>
        StereoRecursion.Run(ref step, leftDb, rightDb, leftDb, rightDb);

    private struct Step : IStereoStep
    {
        public Vector128<double> Reduction;
        public Vector128<double> Alpha;
        public Vector128<double> Share;
        public Vector128<double> Slope;
        public Vector128<double> PerSlope;
        public Vector128<double> Knee;
        public Vector128<double> Curvature;
        public Vector128<double> KneeReduction;
        public Vector128<double> KneeEnd;
        public Vector128<double> FourK;
        public Vector128<double> PerTwoK;
        public Vector128<double> LineOffset;
        public Vector128<double> LineGain;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector128<double> Next(Vector128<double> frame)
        {
            // Levels count from the foot of the knee; this one is where the static curve gives the held reduction.
            Vector128<double> level = Vector128.ConditionalSelect(
                Vector128.LessThanOrEqual(frame, KneeReduction),
                Vector128.Sqrt((Knee + Knee) * frame * PerSlope),
                Vector128.FusedMultiplyAdd(frame, PerSlope, Knee * 0.5));

            Vector128<double> rest = level - Alpha * Reduction;
            Vector128<double> root = Vector128.Sqrt(
                Vector128.MaxNative(Vector128<double>.Zero, Vector128<double>.One - FourK * rest));
            Vector128<double> u = Vector128.ConditionalSelect(
                Vector128.LessThan(rest, KneeEnd),
                (Vector128<double>.One - root) * PerTwoK,
                (rest - LineOffset) * LineGain);
            u = Vector128.MaxNative(Vector128<double>.Zero, u);
            Vector128<double> inKnee = Vector128.MinNative(u, Knee);
            Vector128<double> wanted = Slope * Vector128.FusedMultiplyAdd(inKnee * inKnee, Curvature, u - inKnee);
            return Reduction = Vector128.FusedMultiplyAdd(Alpha, Reduction, Share * wanted);
        }
    }
}
