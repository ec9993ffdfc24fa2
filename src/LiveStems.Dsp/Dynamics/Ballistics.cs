using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Attack and release of a gain reduction in dB, two channels side by side: the smooth decoupled detector behind the
/// gain computer of Giannoulis, Massberg, Reiss (JAES 60(6), 2012), with an optional release that depends on how long
/// the reduction lasted.
/// </summary>
/// <remarks>
/// <para>
/// Release stage: h[n] = max(x[n], αR h[n−1] + (1 − αR) x[n]). Attack stage: y[n] = αA y[n−1] + (1 − αA) h[n]. All times
/// are τ (63.2 %). An attack step follows αA alone; a release lasts about τR + τA. On a steady tone the pair reads the
/// peak (−0.008 dB at 1 kHz with 10 and 100 ms), where the branching detector reads 1.2 dB low.
/// </para>
/// <para>
/// Programme-dependent release, derived from two capacitors that share one rectifier: h above is the fast one. The slow
/// one charges towards h with <see cref="ChargeFactor"/> times the release time and discharges towards h with
/// <see cref="SlowFactor"/> times it, and the attack stage follows max(h, slow). After a reduction of length T the slow
/// one holds 1 − exp(−T/τcharge) of it: a 10 ms peak at a release of 100 ms leaves 2.5 % to recover slowly, four
/// seconds of reduction leave all of it.
/// </para>
/// <para>State is double: at 3 s and 384 kHz 1 − α is 9e-7, which float would swallow.</para>
/// </remarks>
public sealed class Ballistics
{
    /// <summary>Charge time of the slow stage as a multiple of the release time.</summary>
    public const double ChargeFactor = 4;

    /// <summary>Discharge time of the slow stage as a multiple of the release time.</summary>
    public const double SlowFactor = 8;

    private Vector128<double> held;
    private Vector128<double> slow;
    private Vector128<double> smoothed;
    private Vector128<double> attackPole;
    private Vector128<double> releasePole;
    private Vector128<double> chargePole;
    private Vector128<double> slowPole;
    private bool adaptsToProgramme;

    /// <summary>Reduction of the two channels after the last sample, dB.</summary>
    public (double Left, double Right) ReductionDb => (smoothed[0], smoothed[1]);

    /// <summary>True when both channels are in the same state, so that one of them speaks for both.</summary>
    public bool ChannelsAgree => held[0] == held[1] && slow[0] == slow[1] && smoothed[0] == smoothed[1];

    /// <summary>Sets the times; the state stays.</summary>
    /// <param name="attackMs">τ of the attack, 0 or above.</param>
    /// <param name="releaseMs">τ of the release, 0 or above.</param>
    /// <param name="programmeDependent">Adds the slow release stage.</param>
    /// <param name="sampleRate">Samples a second.</param>
    public void SetTimes(double attackMs, double releaseMs, bool programmeDependent, double sampleRate)
    {
        attackPole = Vector128.Create(TimeConstant.Pole(attackMs, sampleRate));
        releasePole = Vector128.Create(TimeConstant.Pole(releaseMs, sampleRate));
        chargePole = Vector128.Create(TimeConstant.Pole(releaseMs * ChargeFactor, sampleRate));
        slowPole = Vector128.Create(TimeConstant.Pole(releaseMs * SlowFactor, sampleRate));
        if (!programmeDependent)
        {
            slow = Vector128<double>.Zero;
        }

        adaptsToProgramme = programmeDependent;
    }

    /// <summary>No reduction, now and before.</summary>
    public void Reset() => held = slow = smoothed = Vector128<double>.Zero;

    /// <summary>Puts the attack stage at a given reduction, dB; the release stage keeps what it holds.</summary>
    public void StartFrom((double Left, double Right) reductionDb) =>
        smoothed = Vector128.Create(reductionDb.Left, reductionDb.Right);

    /// <summary>Sets state below 1e-20 dB to zero.</summary>
    public void FlushTinyState()
    {
        Vector128<double> tiny = Vector128.Create(1e-20);
        held &= Vector128.GreaterThan(held, tiny);
        slow &= Vector128.GreaterThan(slow, tiny);
        smoothed &= Vector128.GreaterThan(smoothed, tiny);
    }

    /// <summary>
    /// Smooths, in place, the reductions of two channels of equal length. Linked channels pass the same memory twice;
    /// that is the left channel's answer and moves the state of both.
    /// </summary>
    public void Process(Span<float> leftDb, Span<float> rightDb)
    {
        if (adaptsToProgramme)
        {
            ProcessProgrammeDependent(leftDb, rightDb[..leftDb.Length]);
        }
        else
        {
            ProcessPlain(leftDb, rightDb[..leftDb.Length]);
        }
    }

    private void ProcessPlain(Span<float> leftDb, Span<float> rightDb)
    {
        Vector128<double> h = held;
        Vector128<double> y = smoothed;
        Vector128<double> release = releasePole;
        Vector128<double> releaseShare = Vector128<double>.One - releasePole;
        Vector128<double> attack = attackPole;
        Vector128<double> attackShare = Vector128<double>.One - attackPole;
        for (int i = 0; i < leftDb.Length; i++)
        {
            Vector128<double> x = Vector128.Create((double)leftDb[i], rightDb[i]);
            h = Vector128.MaxNative(x, Vector128.FusedMultiplyAdd(release, h, releaseShare * x));
            y = Vector128.FusedMultiplyAdd(attack, y, attackShare * h);
            rightDb[i] = (float)y[1];
            leftDb[i] = (float)y.ToScalar();
        }

        held = h;
        smoothed = y;
    }

    private void ProcessProgrammeDependent(Span<float> leftDb, Span<float> rightDb)
    {
        Vector128<double> h = held;
        Vector128<double> s = slow;
        Vector128<double> y = smoothed;
        Vector128<double> release = releasePole;
        Vector128<double> releaseShare = Vector128<double>.One - releasePole;
        Vector128<double> charge = chargePole;
        Vector128<double> chargeShare = Vector128<double>.One - chargePole;
        Vector128<double> discharge = slowPole;
        Vector128<double> dischargeShare = Vector128<double>.One - slowPole;
        Vector128<double> attack = attackPole;
        Vector128<double> attackShare = Vector128<double>.One - attackPole;
        for (int i = 0; i < leftDb.Length; i++)
        {
            Vector128<double> x = Vector128.Create((double)leftDb[i], rightDb[i]);
            h = Vector128.MaxNative(x, Vector128.FusedMultiplyAdd(release, h, releaseShare * x));

            // Charging is quicker than discharging, so the larger of the two candidates is always the one that applies.
            s = Vector128.MaxNative(
                Vector128.FusedMultiplyAdd(charge, s, chargeShare * h),
                Vector128.FusedMultiplyAdd(discharge, s, dischargeShare * h));
            y = Vector128.FusedMultiplyAdd(attack, y, attackShare * Vector128.MaxNative(h, s));
            rightDb[i] = (float)y[1];
            leftDb[i] = (float)y.ToScalar();
        }

        held = h;
        slow = s;
        smoothed = y;
    }
}
