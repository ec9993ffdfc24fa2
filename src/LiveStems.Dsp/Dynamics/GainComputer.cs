using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The static curve of a dynamic processor: from level in dB to reduction in dB (0 or above; the gain is its negative).
/// </summary>
/// <remarks>
/// <para>
/// Source: D. Giannoulis, M. Massberg, J. D. Reiss, "Digital Dynamic Range Compressor Design: A Tutorial and Analysis",
/// JAES 60(6), 2012, eq. 4 (soft knee), in a form without branches. With the distance d = x − T of the level from the
/// threshold (T − x for a downward expander) and the knee width W:
/// </para>
/// <para>
/// reduction = slope · k(d), k(d) = t²/(2W) + max(d − W/2, 0), t = d + W/2 held to 0…W.
/// </para>
/// <para>
/// Compressor: slope = 1 − 1/R. Below the knee k = 0, inside t²/(2W), above W/2 + d − W/2 = d: the paper's three cases.
/// Expander: slope = R − 1 and the reduction stops at the range.
/// </para>
/// </remarks>
public readonly struct GainComputer
{
    private GainComputer(double thresholdDb, double slope, double kneeDb, double direction, double rangeDb)
    {
        ThresholdDb = thresholdDb;
        Slope = slope;
        KneeDb = kneeDb;
        Direction = direction;
        RangeDb = rangeDb;
        StartMagnitude = -1;
        StartPower = -1;
        if (direction > 0)
        {
            double start = Math.Max(LevelDetector.FloorDb, thresholdDb - kneeDb / 2);
            StartMagnitude = (float)Decibels.ToAmplitude(start - 0.01);
            StartPower = (float)Math.Pow(Decibels.ToAmplitude(start - LevelDetector.SinePowerOffsetDb - 0.01), 2);
        }
    }

    /// <summary>Centre of the knee, dB.</summary>
    public double ThresholdDb { get; }

    /// <summary>Reduction per dB beyond the knee: 1 − 1/R for compression, R − 1 for expansion.</summary>
    public double Slope { get; }

    /// <summary>Width of the knee, dB; 0 is a hard knee.</summary>
    public double KneeDb { get; }

    /// <summary>The reduction goes no deeper, dB.</summary>
    public double RangeDb { get; }

    /// <summary>
    /// A compressor reduces no magnitude up to this, by the curve in floats too: 0.01 dB below the knee, where the level of a
    /// magnitude errs by less than a hundredth of that.
    /// </summary>
    public float StartMagnitude { get; }

    /// <summary>The same for mean powers.</summary>
    public float StartPower { get; }

    /// <summary>+1 when levels above the threshold are reduced, −1 when levels below are.</summary>
    private double Direction { get; }

    /// <summary>Levels above the threshold are reduced.</summary>
    /// <param name="thresholdDb">Centre of the knee, dB.</param>
    /// <param name="ratio">R:1, at least 1; infinity makes a limiter.</param>
    /// <param name="kneeDb">Width of the knee, 0 or above.</param>
    public static GainComputer Compressor(double thresholdDb, double ratio, double kneeDb) =>
        new(thresholdDb, 1 - 1 / ratio, kneeDb, 1, float.MaxValue);

    /// <summary>Levels below the threshold are reduced.</summary>
    /// <param name="thresholdDb">Centre of the knee, dB.</param>
    /// <param name="ratio">1:R, at least 1 and finite.</param>
    /// <param name="kneeDb">Width of the knee, 0 or above.</param>
    /// <param name="rangeDb">Deepest reduction, 0 or above.</param>
    public static GainComputer Expander(double thresholdDb, double ratio, double kneeDb, double rangeDb) =>
        new(thresholdDb, ratio - 1, kneeDb, -1, rangeDb);

    /// <summary>Reduction in dB, 0 or above, at a steady level in dB.</summary>
    public double ReductionDb(double levelDb)
    {
        double distance = Direction * (levelDb - ThresholdDb);
        double inKnee = Math.Clamp(distance + KneeDb / 2, 0, KneeDb);
        double curved = KneeDb > 0 ? inKnee * inKnee / (2 * KneeDb) : 0;
        return Math.Min(RangeDb, Slope * (curved + Math.Max(distance - KneeDb / 2, 0)));
    }

    /// <summary>The curve with its constants spread over vectors, for a run of samples.</summary>
    public Vectorised Vectorise() => new(this);

    /// <summary>The same curve for eight levels at once.</summary>
    public readonly struct Vectorised
    {
        private readonly Vector256<float> direction;
        private readonly Vector256<float> kneeStart;
        private readonly Vector256<float> knee;
        private readonly Vector256<float> curvature;
        private readonly Vector256<float> slope;
        private readonly Vector256<float> range;

        internal Vectorised(GainComputer curve)
        {
            direction = Vector256.Create((float)curve.Direction);
            kneeStart = Vector256.Create((float)(curve.KneeDb / 2 - curve.Direction * curve.ThresholdDb));
            knee = Vector256.Create((float)curve.KneeDb);
            curvature = Vector256.Create(curve.KneeDb > 0 ? (float)(1 / (2 * curve.KneeDb)) : 0);
            slope = Vector256.Create((float)curve.Slope);
            range = Vector256.Create((float)curve.RangeDb);
        }

        /// <summary>Reduction in dB, 0 or above, of each lane's level in dB.</summary>
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector256<float> ReductionDb(Vector256<float> levelDb)
        {
            Vector256<float> intoKnee = Vector256.MaxNative(
                Vector256.FusedMultiplyAdd(direction, levelDb, kneeStart), Vector256<float>.Zero);
            Vector256<float> inKnee = Vector256.MinNative(intoKnee, knee);
            Vector256<float> beyond = intoKnee - inKnee;
            Vector256<float> bent = Vector256.FusedMultiplyAdd(inKnee * inKnee, curvature, beyond);
            return Vector256.MinNative(bent * slope, range);
        }

        /// <summary>The same curve for sixteen levels at once, bit for bit.</summary>
        public VectorisedTwice Twice() => new(direction, kneeStart, knee, curvature, slope, range);
    }

    /// <summary>The curve for sixteen levels at once.</summary>
    public readonly struct VectorisedTwice
    {
        private readonly Vector512<float> direction;
        private readonly Vector512<float> kneeStart;
        private readonly Vector512<float> knee;
        private readonly Vector512<float> curvature;
        private readonly Vector512<float> slope;
        private readonly Vector512<float> range;

        internal VectorisedTwice(
            Vector256<float> direction,
            Vector256<float> kneeStart,
            Vector256<float> knee,
            Vector256<float> curvature,
            Vector256<float> slope,
            Vector256<float> range)
        {
            this.direction = Vector512.Create(direction, direction);
            this.kneeStart = Vector512.Create(kneeStart, kneeStart);
            this.knee = Vector512.Create(knee, knee);
            this.curvature = Vector512.Create(curvature, curvature);
            this.slope = Vector512.Create(slope, slope);
            this.range = Vector512.Create(range, range);
        }

        /// <summary>Reduction in dB, 0 or above, of each lane's level in dB.</summary>
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<float> ReductionDb(Vector512<float> levelDb)
        {
            Vector512<float> intoKnee = Vector512.MaxNative(
                Vector512.FusedMultiplyAdd(direction, levelDb, kneeStart), Vector512<float>.Zero);
            Vector512<float> inKnee = Vector512.MinNative(intoKnee, knee);
            Vector512<float> beyond = intoKnee - inKnee;
            Vector512<float> bent = Vector512.FusedMultiplyAdd(inKnee * inKnee, curvature, beyond);
            return Vector512.MinNative(bent * slope, range);
        }
    }
}
