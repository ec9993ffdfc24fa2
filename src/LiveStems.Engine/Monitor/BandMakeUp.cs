using LiveStems.Dsp;

namespace LiveStems.Engine.Monitor;

/// <summary>
/// The gain, 0 to +24 dB, that brings a band up to just below the loudness of the sound it was taken from, and never above.
/// </summary>
/// <remarks>
/// <para>
/// Two gains, the lower of which holds. The steady one follows the ratio of the momentary loudness (BS.1770-5, 400 ms) of
/// the whole and of the band, less 1 dB: down within 10 ms, up by 12 dB a second after 2 s without a way down, so that it
/// stands still from one bar to the next; a band that was moved need not wait. While the whole is silent, or 10 dB below
/// where it lately was, it stays. The quick one is for what comes into the band unforeseen: with it the band's energy over
/// half a period of its lower edge (2.5 to 25 ms), plus 0.4 dB, does not pass the higher of two energies of the whole, the
/// momentary one and that over the same time with a decay of 30 ms. An attack that the whole has too is therefore not
/// dulled, and a steady low note not made to flutter.
/// </para>
/// <para>
/// The gain that holds is the mean over three steps of the lowest over three, drawn as a quadratic spline, and meant for
/// sound three steps back: it has no corners, and is almost down when what it is meant for arrives.
/// </para>
/// </remarks>
internal sealed class BandMakeUp
{
    /// <summary>Steps by which the sound is held back.</summary>
    public const int DelaySteps = 3;

    private const int StepsInBlock = 15;
    private const double LargestGainDb = 24;
    private const double SteadyMarginDb = -1;
    private const double QuickMarginDb = -0.4;
    private const double RiseDbPerSecond = 12;
    private const double QuickRiseDbPerSecond = 100;
    private const double HoldSeconds = 2;
    private const double QuickPeriods = 0.5;
    private const double ShortestQuickSeconds = 0.0025;
    private const double LongestQuickSeconds = 0.025;
    private const double QuickDecaySeconds = 0.03;
    private const double GateLufs = -70;
    private const double RelativeGateDb = -10;
    private const double ReferenceFallDbPerSecond = 10;
    private const double LoudnessOffsetDb = -0.691;
    private const double Nothing = 1e-30;

    private static readonly double LargestGain = Decibels.ToAmplitude(LargestGainDb);
    private static readonly double SteadyMargin = Decibels.ToPower(SteadyMarginDb);
    private static readonly double QuickMargin = Decibels.ToPower(QuickMarginDb);
    private static readonly double RelativeGate = Decibels.ToPower(RelativeGateDb);

    private readonly EnergyWindow whole = new();
    private readonly EnergyWindow band = new();
    private readonly double stepSeconds;
    private readonly double blockSeconds;
    private readonly double blockRise;
    private readonly double stepRise;
    private readonly double quickDecay;
    private readonly double referenceFall;
    private readonly double gateEnergy;
    private int stepsInBlock;
    private double quickShare;
    private double quickWhole;
    private double quickWholeHeld;
    private double quickBand;
    private double reference;
    private double steady = 1;
    private double steadyBefore = 1;
    private double holdSeconds;
    private LastThree allowed = new(1);
    private LastThree lowest = new(1);
    private LastThree nodes = new(1);

    /// <param name="stepSeconds">Duration of a step; about 1/1500 s.</param>
    /// <param name="stepFrames">Frames in a step.</param>
    public BandMakeUp(double stepSeconds, int stepFrames)
    {
        this.stepSeconds = stepSeconds;
        blockSeconds = stepSeconds * StepsInBlock;
        blockRise = Decibels.ToAmplitude(RiseDbPerSecond * blockSeconds);
        stepRise = Decibels.ToAmplitude(QuickRiseDbPerSecond * stepSeconds);
        quickDecay = Math.Exp(-stepSeconds / QuickDecaySeconds);
        referenceFall = Decibels.ToPower(-ReferenceFallDbPerSecond * blockSeconds);
        gateEnergy = Decibels.ToPower(GateLufs - LoudnessOffsetDb) * stepFrames * StepsInBlock * EnergyWindow.Blocks;
    }

    /// <summary>Gain at a place in the step that is heard now, 0 at its start and 1 at its end, as an amplitude ratio.</summary>
    public double At(double place)
    {
        double start = 0.5 * (nodes.First + nodes.Second);
        double slope = nodes.Second - nodes.First;
        double bend = 0.5 * (nodes.Third - nodes.Second - slope);
        return start + place * (slope + place * bend);
    }

    /// <summary>As if from silence.</summary>
    public void Reset()
    {
        whole.Reset();
        band.Reset();
        stepsInBlock = 0;
        quickWhole = quickWholeHeld = quickBand = reference = holdSeconds = 0;
        steady = steadyBefore = 1;
        allowed = lowest = nodes = new(1);
    }

    /// <summary>Says where the band begins.</summary>
    public void SetLowerEdge(double hertz)
    {
        double seconds = Math.Clamp(QuickPeriods / hertz, ShortestQuickSeconds, LongestQuickSeconds);
        quickShare = 1 - Math.Exp(-stepSeconds / seconds);
    }

    /// <summary>Takes the K-weighted energies of a step that came in, and moves on to the next.</summary>
    /// <param name="wholeEnergy">Energy of the whole sound.</param>
    /// <param name="bandEnergy">Energy of the band.</param>
    /// <param name="isMoving">True while the band is being moved.</param>
    public void EndStep(double wholeEnergy, double bandEnergy, bool isMoving)
    {
        whole.Add(wholeEnergy);
        band.Add(bandEnergy);
        quickWhole = Faded(quickWhole + quickShare * (wholeEnergy - quickWhole));
        quickBand = Faded(quickBand + quickShare * (bandEnergy - quickBand));
        quickWholeHeld = Faded(Math.Max(quickWhole, quickWholeHeld * quickDecay));
        holdSeconds = isMoving ? 0 : holdSeconds;
        if (++stepsInBlock == StepsInBlock)
        {
            stepsInBlock = 0;
            CompleteBlock();
        }

        double steadyNow = steadyBefore + (steady - steadyBefore) * stepsInBlock / StepsInBlock;
        allowed.Add(Math.Max(1, Math.Min(Math.Min(steadyNow, Quick()), allowed.Third * stepRise)));
        lowest.Add(Math.Min(allowed.First, Math.Min(allowed.Second, allowed.Third)));
        nodes.Add((lowest.First + lowest.Second + lowest.Third) / 3);
    }

    private double Quick()
    {
        double mostEnergy = Math.Max(whole.Energy / (StepsInBlock * EnergyWindow.Blocks), quickWholeHeld);
        return Math.Sqrt(QuickMargin * mostEnergy / Math.Max(quickBand, Nothing));
    }

    private void CompleteBlock()
    {
        whole.CompleteBlock();
        band.CompleteBlock();
        steadyBefore = steady;
        reference = Faded(Math.Max(whole.Energy, reference * referenceFall));
        if (whole.Energy <= gateEnergy || whole.Energy <= RelativeGate * reference)
        {
            return;
        }

        double ratio = Math.Sqrt(SteadyMargin * whole.Energy / Math.Max(band.Energy, Nothing));
        double wanted = Math.Clamp(ratio, 1, LargestGain);
        if (wanted <= steady)
        {
            steady = wanted;
            holdSeconds = HoldSeconds;
        }
        else if (holdSeconds > 0)
        {
            holdSeconds -= blockSeconds;
        }
        else
        {
            steady = Math.Min(wanted, steady * blockRise);
        }
    }

    // Energies that die away must not end among the subnormal numbers.
    private static double Faded(double energy) => energy < Nothing ? 0 : energy;

    private record struct LastThree(double First, double Second, double Third)
    {
        public LastThree(double value)
            : this(value, value, value)
        {
        }

        public void Add(double value) => (First, Second, Third) = (Second, Third, value);
    }
}
