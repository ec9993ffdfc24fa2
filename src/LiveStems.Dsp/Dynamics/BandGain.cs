namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// From the power of a band to how much of a gain range is in use, a step at a time: level → static curve with soft knee,
/// held to the range → attack and release, as <see cref="Ballistics"/> does it for every sample.
/// </summary>
/// <remarks>
/// Curve and ballistics: D. Giannoulis, M. Massberg, J. D. Reiss, JAES 60(6), 2012, eq. 4 and the smooth decoupled detector.
/// The level is the mean power of the last <see cref="DetectorPeriods"/> periods of the band or so, one-pole, so that the
/// gain does not follow the wave itself: at the band's centre the power's ripple of twice the frequency is let through with
/// 1 / √(1 + (4π · periods)²) of its size (derived), 5 %, which is ±0.2 dB. The ballistics run on the share of the range, so
/// the range may move while they do.
/// </remarks>
public sealed class BandGain
{
    /// <summary>Time constant of the detector in periods of the band's centre.</summary>
    public const double DetectorPeriods = 1.5;

    // Lower levels mean silence, dB.
    private const double FloorDb = -160;

    private readonly LongTermPower longTerm = new();
    private GainComputer curve;
    private BandGainSettings settings;
    private double detectorShare = 1;
    private double attackPole;
    private double releasePole;
    private double power;
    private double held;

    /// <summary>The present share of the range, 0 to 1.</summary>
    public double Share { get; private set; }

    /// <summary>Sets what is done, from the next step on.</summary>
    /// <param name="to">What is done.</param>
    /// <param name="centreHz">Centre of the band that the power is of.</param>
    /// <param name="stepsPerSecond">Steps a second.</param>
    public void Set(in BandGainSettings to, double centreHz, double stepsPerSecond)
    {
        settings = to;
        curve = to.ActsBelow
            ? GainComputer.Expander(to.ThresholdDb, to.Ratio, to.KneeDb, to.RangeDb)
            : GainComputer.Compressor(to.ThresholdDb, to.Ratio, to.KneeDb);
        detectorShare = 1 - TimeConstant.Pole(1000 * DetectorPeriods / centreHz, stepsPerSecond);
        attackPole = TimeConstant.Pole(to.AttackMs, stepsPerSecond);
        releasePole = TimeConstant.Pole(to.ReleaseMs, stepsPerSecond);
        longTerm.SetRate(stepsPerSecond);
    }

    /// <summary>Silence before, and no action.</summary>
    public void Reset()
    {
        longTerm.Reset();
        power = 0;
        held = 0;
        Share = 0;
    }

    /// <summary>Takes the mean power of a step and moves <see cref="Share"/>.</summary>
    public void Next(double stepPower)
    {
        power += detectorShare * (stepPower - power);
        power = power < 1e-20 ? 0 : power;
        longTerm.Next(power);
        MoveTowards(settings.RangeDb > 0 ? Math.Min(1, curve.ReductionDb(LevelDb()) / settings.RangeDb) : 0);
    }

    /// <summary>Moves a step back to no action, on a straight line that takes so many steps from full action.</summary>
    public void FadeOut(int steps)
    {
        held = 0;
        Share = Math.Max(0, Share - 1.0 / steps);
    }

    private double LevelDb()
    {
        double reference = settings.IsRelative ? longTerm.Power : 0.5;
        return Math.Max(FloorDb, Decibels.FromPower(power / reference));
    }

    private void MoveTowards(double wanted)
    {
        held = Math.Max(wanted, wanted + releasePole * (held - wanted));
        Share = held + attackPole * (Share - held);
        Share = Share < 1e-6 ? 0 : Share;
    }
}
