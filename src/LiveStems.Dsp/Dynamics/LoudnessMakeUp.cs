using LiveStems.Dsp.Loudness;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The make-up gain that gives a processed sound the loudness of the unprocessed one: K-weighted power (ITU-R BS.1770-5
/// Annex 1) of both over a long window, and a gain that glides slowly to their ratio.
/// </summary>
/// <remarks>
/// Both powers pass the same one-pole window of <see cref="WindowMs"/>, so their ratio is right from the first sound on;
/// only the glide takes time. While the input of the last <see cref="GateMs"/> is below the absolute gate of −70 LUFS
/// everything waits: silence between phrases does not move the gain. The caller works in intervals of a fixed number of
/// frames, so the gain does not depend on blocks.
/// </remarks>
public sealed class LoudnessMakeUp
{
    /// <summary>τ of the window, ms.</summary>
    public const double WindowMs = 3000;

    /// <summary>τ of the gain's glide, ms.</summary>
    public const double GlideMs = 500;

    /// <summary>τ of the window that the gate looks at, ms.</summary>
    public const double GateMs = 400;

    // −70 LUFS as a sum of mean squares: LK = −0.691 + 10 log10 (BS.1770-5 eq. 2).
    private static readonly double GatePower = Decibels.ToPower(-70 + 0.691);

    private readonly KWeightedPair before;
    private readonly KWeightedPair after;
    private readonly int intervalFrames;
    private readonly double lowestDb;
    private readonly double windowPole;
    private readonly double glidePole;
    private readonly double gatePole;
    private double powerBefore;
    private double powerAfter;
    private double recentPower;

    /// <summary>A measurement that is brought up to date every so many frames.</summary>
    /// <param name="sampleRate">Frames a second.</param>
    /// <param name="intervalFrames">Frames from one <see cref="EndInterval"/> to the next.</param>
    /// <param name="lowestDb">The gain goes no lower, dB: 0 for processing that only ever makes sound quieter.</param>
    public LoudnessMakeUp(double sampleRate, int intervalFrames, double lowestDb = 0)
    {
        this.lowestDb = lowestDb;
        KWeighting weighting = new(sampleRate);
        before = new KWeightedPair(weighting, 1, 1);
        after = new KWeightedPair(weighting, 1, 1);
        this.intervalFrames = intervalFrames;
        windowPole = TimeConstant.Pole(WindowMs, sampleRate / intervalFrames);
        glidePole = TimeConstant.Pole(GlideMs, sampleRate / intervalFrames);
        gatePole = TimeConstant.Pole(GateMs, sampleRate / intervalFrames);
    }

    /// <summary>The gain for now, dB.</summary>
    public double GainDb { get; private set; }

    /// <summary>Silence before, and a gain of 0 dB.</summary>
    public void Reset()
    {
        StartOver();
        GainDb = 0;
    }

    /// <summary>Forgets what was measured; the gain stays.</summary>
    public void StartOver()
    {
        before.Reset();
        after.Reset();
        powerBefore = powerAfter = recentPower = 0;
    }

    /// <summary>Takes in sound before the processing.</summary>
    public void AddBefore(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => before.Add(left, right);

    /// <summary>Takes in the same sound after it, make-up included.</summary>
    public void AddAfter(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => after.Add(left, right);

    /// <summary>Ends an interval in which the make-up that <see cref="AddAfter"/> heard was this many dB on average.</summary>
    public void EndInterval(double makeUpDb)
    {
        double energyBefore = before.TakeEnergy() / intervalFrames;
        double energyAfter = after.TakeEnergy() / intervalFrames / Decibels.ToPower(makeUpDb);
        recentPower += (1 - gatePole) * (energyBefore - recentPower);
        if (recentPower < GatePower)
        {
            return;
        }

        powerBefore += (1 - windowPole) * (energyBefore - powerBefore);
        powerAfter += (1 - windowPole) * (energyAfter - powerAfter);
        if (powerAfter > 0)
        {
            double wanted = Math.Clamp(Decibels.FromPower(powerBefore / powerAfter), lowestDb, 80);
            GainDb += (1 - glidePole) * (wanted - GainDb);
        }
    }

    /// <summary>Lets half of the gain go, for an interval after the make-up was switched off.</summary>
    public void Fade() => GainDb = Math.Abs(GainDb) < 0.001 ? 0 : GainDb / 2;
}
