using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The release stages of <see cref="Ballistics"/>, two channels side by side: what to hold of a reduction that comes and
/// goes. Never less than the reduction itself.
/// </summary>
internal struct ReleaseHold
{
    public Vector128<double> Fast;
    public Vector128<double> Slow;
    public Pole Release;
    public Pole Charge;
    public Pole Discharge;

    /// <summary>True when nothing is left to recover from.</summary>
    public readonly bool IsAtRest => (Fast | Slow) == Vector128<double>.Zero;

    /// <summary>True when both channels hold the same.</summary>
    public readonly bool ChannelsAgree =>
        Fast.ToScalar() == Fast.GetElement(1) && Slow.ToScalar() == Slow.GetElement(1);

    /// <summary>Sets the times; the state stays.</summary>
    public void SetTimes(double releaseMs, double sampleRate)
    {
        Release = new Pole(TimeConstant.Pole(releaseMs, sampleRate));
        double slowMs = Math.Min(releaseMs * Ballistics.SlowFactor, Ballistics.LongestMs);
        Charge = new Pole(TimeConstant.Pole(slowMs * Ballistics.ChargeFactor / Ballistics.SlowFactor, sampleRate));
        Discharge = new Pole(TimeConstant.Pole(slowMs, sampleRate));
    }

    /// <summary>The held reduction after one more value, with the fast stage alone.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector128<double> NextPlain(Vector128<double> wanted) =>
        Fast = Vector128.MaxNative(wanted, Release.Step(Fast, wanted));

    /// <summary>The held reduction after one more value, with both stages.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector128<double> NextAdaptive(Vector128<double> wanted)
    {
        Fast = Vector128.MaxNative(wanted, Release.Step(Fast, wanted));

        // Charging is quicker than discharging, so the larger of the two candidates is always the one that applies.
        Slow = Vector128.MaxNative(Charge.Step(Slow, Fast), Discharge.Step(Slow, Fast));
        return Vector128.MaxNative(Fast, Slow);
    }

    /// <summary>Both channels take on the deeper state of the two.</summary>
    public void Join()
    {
        Fast = Deeper(Fast);
        Slow = Deeper(Slow);
    }

    /// <summary>Sets state below a threshold in dB to zero.</summary>
    public void Flush(double tinyDb)
    {
        Fast &= Vector128.GreaterThan(Fast, Vector128.Create(tinyDb));
        Slow &= Vector128.GreaterThan(Slow, Vector128.Create(tinyDb));
    }

    private static Vector128<double> Deeper(Vector128<double> state) =>
        Vector128.Create(Math.Max(state.ToScalar(), state.GetElement(1)));
}
