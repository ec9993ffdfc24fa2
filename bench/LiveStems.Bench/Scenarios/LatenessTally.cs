using System.Diagnostics;
using LiveStems.Engine.Devices;

namespace LiveStems.Bench.Scenarios;

/// <summary>How late the periods of several runs began, how many were missed, and which of those for a stop of the runtime.</summary>
internal sealed class LatenessTally(string name)
{
    private readonly List<DurationHistogram> lateness = [];
    private readonly List<string> byStops = [];
    private long missed;
    private long periods;
    private double load;
    private double worstCall;
    private AudioThreadPriority? priority;

    /// <summary>Adds a run of something that no runtime stops.</summary>
    public void Add(long missedPeriods, long allPeriods, DurationHistogram lateBy)
    {
        missed += missedPeriods;
        periods += allPeriods;
        lateness.Add(lateBy);
    }

    /// <summary>
    /// Adds a run of the player. A stop of the runtime counts as the cause of a missed period when, without the time that
    /// threads were stopped between the period's due time and the moment its sound was ready, it would have been on time.
    /// </summary>
    public void Add(AudioStatistics statistics, GarbageCollections stops, double periodSeconds)
    {
        Add(statistics.Underruns, statistics.Calls + statistics.Underruns, statistics.Lateness);
        load = Math.Max(load, statistics.ShareAt(0.5));
        worstCall = Math.Max(worstCall, statistics.WorstShare);
        priority = statistics.Priority;
        foreach (Underrun underrun in statistics.LatestUnderruns)
        {
            long due = underrun.Timestamp - underrun.LateTicks - (long)(periodSeconds * Stopwatch.Frequency);
            long stopped = stops.TicksStopped(due, underrun.Timestamp);
            if (stopped >= underrun.LateTicks)
            {
                byStops.Add($"{Milliseconds(underrun.LateTicks):0.00} ms late, stopped {Milliseconds(stopped):0.00} ms");
            }
        }
    }

    public override string ToString()
    {
        string text = $"{name,-9} lateness µs: median {At(0.5):0}, 99 % {At(0.99):0}, 99.9 % {At(0.999):0}, worst {lateness.Max(run => run.WorstSeconds) * 1e6:0}; missed {missed} of {periods}";
        return priority is null
            ? text
            : $"{text}; thread {priority}; load median at most {load * 100:0.0} %, call worst {worstCall * 100:0} %; missed for a stop of the runtime: {byStops.Count}{(byStops.Count == 0 ? string.Empty : $" ({string.Join("; ", byStops.Take(8))})")}";
    }

    private static double Milliseconds(long ticks) => ticks * 1e3 / Stopwatch.Frequency;

    // The least time that this share of all periods did not pass, by halving.
    private double At(double quantile)
    {
        double low = 0;
        double high = lateness.Max(run => run.WorstSeconds);
        long wanted = (long)Math.Ceiling(quantile * lateness.Sum(run => run.Count));
        for (int step = 0; step < 40; step++)
        {
            double middle = (low + high) / 2;
            (low, high) = lateness.Sum(run => run.CountWithin(middle)) >= wanted ? (low, middle) : (middle, high);
        }

        return high * 1e6;
    }
}
