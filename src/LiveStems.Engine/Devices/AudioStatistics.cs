using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>
/// What has happened on the audio thread: calls, underruns, faults, and how long the calls took as a share of the time
/// they had. Written by the audio thread, read by any.
/// </summary>
public sealed class AudioStatistics
{
    // Shares of the deadline in steps of a half per cent, the last for all above.
    private const int Steps = 400;
    private const double StepShare = 0.005;
    private const double LoadSeconds = 0.3;

    // Enough to hold each against what else happened at its time.
    private const int KeptUnderruns = 4096;

    private readonly long[] histogram = new long[Steps + 1];
    private readonly Underrun[] latestUnderruns = new Underrun[KeptUnderruns];
    private long underrunEvents;
    private long calls;
    private long underruns;
    private long faults;
    private long compiledMethods;
    private double worstShare;
    private double load;
    private Exception? lastFault;
    private int priority;

    /// <summary>Times the device asked for sound.</summary>
    public long Calls => Volatile.Read(ref calls);

    /// <summary>Times it did not get the sound in time.</summary>
    public long Underruns => Volatile.Read(ref underruns);

    /// <summary>When and by how much the device ran dry: the latest 4096 times. Whole only once the device has stopped.</summary>
    public IEnumerable<Underrun> LatestUnderruns => latestUnderruns.Take((int)Math.Min(KeptUnderruns, Volatile.Read(ref underrunEvents)));

    /// <summary>Calls that ended in an exception and were filled with silence.</summary>
    public long Faults => Volatile.Read(ref faults);

    /// <summary>The exception of the latest of <see cref="Faults"/>.</summary>
    public Exception? LastFault => Volatile.Read(ref lastFault);

    /// <summary>
    /// Methods that the runtime had to compile within calls, each at the cost of a millisecond or more: none, once all that
    /// is called has been called before.
    /// </summary>
    public long CompiledMethods => Volatile.Read(ref compiledMethods);

    /// <summary>The longest call as a share of the time it had.</summary>
    public double WorstShare => Volatile.Read(ref worstShare);

    /// <summary>The share of the time that rendering takes at present: smoothed over 0.3 s.</summary>
    public double Load => Volatile.Read(ref load);

    /// <summary>How the system ranks the audio thread.</summary>
    public AudioThreadPriority Priority => (AudioThreadPriority)Volatile.Read(ref priority);

    /// <summary>How long the calls took.</summary>
    public DurationHistogram CallTimes { get; } = new();

    /// <summary>
    /// How late the audio thread woke for each call. Empty for a device whose own clock makes the calls.
    /// </summary>
    public DurationHistogram Lateness { get; } = new();

    /// <summary>Audio thread: a call of so many ticks of <see cref="Stopwatch"/> for so many frames is over.</summary>
    public void AddCall(long ticks, int frames, int sampleRate)
    {
        double available = (double)frames / sampleRate;
        double share = (double)ticks / Stopwatch.Frequency / available;
        int step = (int)Math.Min(Steps, share / StepShare);
        Volatile.Write(ref histogram[step], histogram[step] + 1);
        if (share > worstShare)
        {
            Volatile.Write(ref worstShare, share);
        }

        Volatile.Write(ref load, load + ((share - load) * available / (available + LoadSeconds)));
        CallTimes.Add(ticks);
        Volatile.Write(ref calls, calls + 1);
    }

    /// <summary>Audio thread: the device ran dry; how late the sound was is not known.</summary>
    public void AddUnderrun()
    {
        long now = Stopwatch.GetTimestamp();
        AddUnderruns(1, new Underrun(now, now, 0));
    }

    /// <summary>Audio thread: the device ran dry for so many of its periods in a row.</summary>
    public void AddUnderruns(long times, Underrun underrun)
    {
        latestUnderruns[underrunEvents % KeptUnderruns] = underrun;
        Volatile.Write(ref underrunEvents, underrunEvents + 1);
        Volatile.Write(ref underruns, underruns + times);
    }

    /// <summary>Audio thread: a call threw and was filled with silence.</summary>
    public void AddFault(Exception cause)
    {
        Volatile.Write(ref lastFault, cause);
        Volatile.Write(ref faults, faults + 1);
    }

    /// <summary>Audio thread: so many methods were compiled within a call.</summary>
    public void AddCompiledMethods(long count) => Volatile.Write(ref compiledMethods, compiledMethods + count);

    /// <summary>Audio thread: this is how the system ranks it.</summary>
    public void SetPriority(AudioThreadPriority reached) => Volatile.Write(ref priority, (int)reached);

    /// <summary>The share of the deadline that so many calls (0 to 1) stayed within, to a half per cent; 0 before the first.</summary>
    public double ShareAt(double quantile)
    {
        long wanted = Math.Max(1, (long)Math.Ceiling(quantile * Calls));
        long seen = 0;
        for (int step = 0; step < Steps; step++)
        {
            seen += Volatile.Read(ref histogram[step]);
            if (seen >= wanted)
            {
                return (step + 1) * StepShare;
            }
        }

        return WorstShare;
    }
}
