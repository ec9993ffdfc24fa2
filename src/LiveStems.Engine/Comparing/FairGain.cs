using LiveStems.Dsp;

namespace LiveStems.Engine.Comparing;

/// <summary>
/// The gains that make both sides of a comparison equally loud: the louder side is turned down to the other, so that
/// nothing gets louder than it is.
/// </summary>
/// <param name="InDb">Gain of "in", 0 or below.</param>
/// <param name="OutDb">Gain of "out", 0 or below.</param>
/// <param name="InLufs">Gated loudness of "in" (ITU-R BS.1770-5); −∞ when it is silent or not measured yet.</param>
/// <param name="OutLufs">Gated loudness of "out".</param>
public readonly record struct FairGain(double InDb, double OutDb, double InLufs, double OutLufs)
{
    /// <summary>The most that a side is turned down.</summary>
    public const double LargestCutDb = 40;

    /// <summary>Before anything was measured: both sides as they are.</summary>
    public static FairGain None { get; } = new(0, 0, double.NegativeInfinity, double.NegativeInfinity);

    /// <summary>True once both sides were heard and measured.</summary>
    public bool IsMeasured => double.IsFinite(InLufs) && double.IsFinite(OutLufs);

    /// <summary>How much louder "out" is than "in", in LU; NaN before both are measured.</summary>
    public double DifferenceLu => IsMeasured ? OutLufs - InLufs : double.NaN;

    /// <summary>The gains for two loudnesses; none when a side is silent.</summary>
    public static FairGain For(double inLufs, double outLufs)
    {
        bool isMeasured = double.IsFinite(inLufs) && double.IsFinite(outLufs);
        double difference = isMeasured ? outLufs - inLufs : 0;
        return new FairGain(
            0 - Math.Clamp(-difference, 0, LargestCutDb), 0 - Math.Clamp(difference, 0, LargestCutDb), inLufs, outLufs);
    }

    /// <summary>The gains as amplitude ratios.</summary>
    internal (double In, double Out) Amplitudes => (Decibels.ToAmplitude(InDb), Decibels.ToAmplitude(OutDb));
}
