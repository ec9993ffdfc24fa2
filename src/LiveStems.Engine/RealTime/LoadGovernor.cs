using LiveStems.Engine.Live;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// Decides what to leave out when rendering takes too much of its time: meters first, then views, and when even that is
/// not enough the music itself, with a fade, rather than noise. Everything comes back by itself.
/// </summary>
/// <remarks>
/// It goes by the share of its time that rendering takes, smoothed over 50 ms and held to four shares a block, so that a
/// single stall of the machine passes. Time is the sound's own, so that it needs no clock.
/// </remarks>
internal sealed class LoadGovernor
{
    private const double SmoothingSeconds = 0.05;
    private const double MostShares = 4;
    private const double HighLoad = 0.8;
    private const double FullLoad = 1;
    private const double LowLoad = 0.6;
    private const double ShedSeconds = 0.05;
    private const double FadeSeconds = 0.1;
    private const double RegainSeconds = 1;
    private const double FirstPauseSeconds = 1;
    private const double LongestPauseSeconds = 8;
    private const double ForgetSeconds = 10;

    private readonly long[] entries = new long[Enum.GetValues<LoadLevel>().Length];
    private int level;
    private double load;
    private double secondsHere;
    private double secondsLow;
    private double pauseSeconds = FirstPauseSeconds;

    /// <summary>What is done now.</summary>
    public LoadLevel Level => (LoadLevel)Volatile.Read(ref level);

    /// <summary>Times that the load has brought it down to a level.</summary>
    public long Entries(LoadLevel to) => Volatile.Read(ref entries[(int)to]);

    /// <summary>As new, counts and all; before the first block.</summary>
    public void Reset()
    {
        Array.Clear(entries);
        load = 0;
        pauseSeconds = FirstPauseSeconds;
        Enter(LoadLevel.Everything);
    }

    /// <summary>Audio thread: a block has been rendered.</summary>
    /// <param name="share">Time it took as a share of the time it had.</param>
    /// <param name="seconds">Length of the block.</param>
    public void Add(double share, double seconds)
    {
        load += (Math.Min(share, MostShares) - load) * seconds / (seconds + SmoothingSeconds);
        secondsHere += seconds;
        secondsLow = load < LowLoad ? secondsLow + seconds : 0;
        switch (Level)
        {
            case LoadLevel.Everything:
                Shed(HighLoad, ShedSeconds, LoadLevel.WithoutMeters);
                Forget();
                break;
            case LoadLevel.WithoutMeters:
                Shed(HighLoad, ShedSeconds, LoadLevel.WithoutViews);
                Regain(LoadLevel.Everything);
                break;
            case LoadLevel.WithoutViews:
                Shed(FullLoad, FadeSeconds, LoadLevel.Faded);
                Regain(LoadLevel.WithoutMeters);
                break;
            case LoadLevel.Faded when secondsHere >= pauseSeconds:
                // The next pause is longer, should this trial fail as well.
                pauseSeconds = Math.Min(LongestPauseSeconds, 2 * pauseSeconds);
                load = 0;
                Enter(LoadLevel.WithoutViews);
                break;
        }
    }

    private void Shed(double above, double afterSeconds, LoadLevel to)
    {
        if (load > above && secondsHere >= afterSeconds)
        {
            Volatile.Write(ref entries[(int)to], entries[(int)to] + 1);
            Enter(to);
        }
    }

    private void Regain(LoadLevel to)
    {
        if (secondsLow >= RegainSeconds && secondsHere >= RegainSeconds)
        {
            Enter(to);
        }
    }

    private void Forget()
    {
        if (secondsHere >= ForgetSeconds)
        {
            pauseSeconds = FirstPauseSeconds;
        }
    }

    private void Enter(LoadLevel to)
    {
        secondsHere = 0;
        secondsLow = 0;
        Volatile.Write(ref level, (int)to);
    }
}
