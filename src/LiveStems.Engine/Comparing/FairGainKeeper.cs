using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Comparing;

/// <summary>
/// Follows the loudness of both sides and decides when the fair gain may move: never while sides are being switched.
/// </summary>
/// <remarks>
/// Time is counted in music heard, so the decisions do not depend on when they are asked for. The first gain comes after a
/// second, or after the whole stretch when one is known from before. It then follows, when it is off by more than 0.05 dB,
/// the loudness of the loop (whole rounds, at least three seconds of them) or of the last ten seconds; after a switch it
/// stands still for four seconds, or for one as long as it rests on less than the whole stretch.
/// </remarks>
internal sealed class FairGainKeeper
{
    private const int FirstSteps = LoudnessLog.StepsPerSecond;
    private const int UsualSteps = 10 * LoudnessLog.StepsPerSecond;
    private const int ShortestSteps = 3 * LoudnessLog.StepsPerSecond;
    private const int HoldSteps = 4 * LoudnessLog.StepsPerSecond;
    private const int UnsettledHoldSteps = LoudnessLog.StepsPerSecond;
    private const double ToleranceDb = 0.05;

    private LoudnessLog? followed;
    private bool hasFirst;
    private bool waitsForWhole;
    private long switchedAt = long.MinValue / 2;

    /// <summary>The gain as it stands.</summary>
    public FairGain Current { get; private set; } = FairGain.None;

    /// <summary>True to let it stand whatever is heard.</summary>
    public bool IsLocked { get; set; }

    /// <summary>Something else is compared, of which so much is known.</summary>
    public void StartWith(FairGain known)
    {
        followed = null;
        hasFirst = false;
        waitsForWhole = known.IsMeasured;
        Current = known;
    }

    /// <summary>The listener has gone over to another side.</summary>
    public void Switched() => switchedAt = followed?.Count ?? 0;

    /// <summary>Looks at what was heard; true when the gain has changed.</summary>
    /// <param name="log">Loudness of both sides; a new one starts a new measurement, and the gain stands until it has a second.</param>
    /// <param name="loopSeconds">Length of the loop, or null.</param>
    public bool Update(LoudnessLog log, double? loopSeconds)
    {
        if (!ReferenceEquals(log, followed))
        {
            waitsForWhole &= followed is null;
            followed = log;
            hasFirst = false;
            switchedAt = long.MinValue / 2;
        }

        long count = log.Count;
        int window = Window(loopSeconds);
        bool isSettled = count >= window;
        bool isHeld = count - switchedAt < (isSettled ? HoldSteps : UnsettledHoldSteps);
        if (IsLocked || count < (waitsForWhole ? window : FirstSteps) || (hasFirst && isHeld))
        {
            return false;
        }

        FairGain wanted = Measure(log, (int)Math.Min(count, window));
        bool isOff = Math.Abs(wanted.InDb - Current.InDb) > ToleranceDb || Math.Abs(wanted.OutDb - Current.OutDb) > ToleranceDb;
        if (hasFirst && !isOff)
        {
            return false;
        }

        hasFirst = true;
        Current = wanted;
        return true;
    }

    private static int Window(double? loopSeconds)
    {
        if (loopSeconds is not { } seconds || seconds <= 0)
        {
            return UsualSteps;
        }

        double loop = Math.Max(1, seconds * LoudnessLog.StepsPerSecond);
        double rounds = Math.Max(1, Math.Ceiling(ShortestSteps / loop));
        return (int)Math.Min(Math.Round(rounds * loop), LoudnessLog.MostSteps);
    }

    private static FairGain Measure(LoudnessLog log, int steps)
    {
        double[] inSide = new double[steps];
        double[] outSide = new double[steps];
        log.CopyLatest(inSide, outSide);
        return FairGain.For(GatedSteps.Lufs(inSide), GatedSteps.Lufs(outSide));
    }
}
