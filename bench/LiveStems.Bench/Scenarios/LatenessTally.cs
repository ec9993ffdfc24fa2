using System.Diagnostics;
using LiveStems.Engine.Devices;

namespace LiveStems.Bench.Scenarios;

/// <summary>How late the periods of several runs began, how many were missed, and what each of those is to be laid to.</summary>
internal sealed class LatenessTally(string name, double periodSeconds)
{
    private const int ShownCauses = 12;

    private readonly List<DurationHistogram> lateness = [];
    private readonly List<string> told = [];
    private readonly Dictionary<Cause, long> missedBy = [];
    private long missed;
    private long periods;
    private double load;
    private double worstCall;
    private long compiledMethods;
    private AudioThreadPriority? priority;

    private enum Cause
    {
        Machine,
        Runtime,
        Both,
        Other,
    }

    /// <summary>Adds a run of something that no runtime stops.</summary>
    public void Add(IReadOnlyList<Underrun> underruns, long allPeriods, DurationHistogram lateBy, HostStalls host)
    {
        missed += underruns.Sum(MissedBy);
        periods += allPeriods;
        lateness.Add(lateBy);
        foreach (Underrun underrun in underruns)
        {
            Lay(underrun, host, [], underrun.Timestamp);
        }
    }

    /// <summary>Adds a run of the player that began at a timestamp of <see cref="Stopwatch"/>.</summary>
    public void Add(AudioStatistics statistics, HostStalls host, GarbageCollections collections, long began)
    {
        missed += statistics.Underruns;
        periods += statistics.Calls + statistics.Underruns;
        lateness.Add(statistics.Lateness);
        load = Math.Max(load, statistics.ShareAt(0.5));
        worstCall = Math.Max(worstCall, statistics.WorstShare);
        compiledMethods += statistics.CompiledMethods;
        priority = statistics.Priority;
        foreach (Underrun underrun in statistics.LatestUnderruns)
        {
            Lay(underrun, host, collections.Within(underrun.PunctualTimestamp, underrun.Timestamp), began);
        }
    }

    public override string ToString()
    {
        string text = $"{name,-9} lateness µs: median {At(0.5):0}, 99 % {At(0.99):0}, 99.9 % {At(0.999):0}, worst {lateness.Max(run => run.WorstSeconds) * 1e6:0}; missed {missed} of {periods}{Causes()}";
        return priority is null
            ? text
            : $"{text}; thread {priority}; load median at most {load * 100:0.0} %, call worst {worstCall * 100:0} %; {compiledMethods} methods compiled on it";
    }

    private double PeriodTicks => periodSeconds * Stopwatch.Frequency;

    private long MissedBy(Underrun underrun) => 1 + (long)(underrun.LateTicks / PeriodTicks);

    // A cause is one without whose time, between the moment at which the sound was not behind yet and the one at which it was
    // ready, it would have been on time; where that holds of either, or only of both at once, it took both. What the machine
    // stood still within a stop of the runtime is the machine's.
    private void Lay(Underrun underrun, HostStalls host, IReadOnlyList<RuntimeStop> stops, long began)
    {
        long times = MissedBy(underrun);
        long stood = host.TicksWithin(underrun.PunctualTimestamp, underrun.Timestamp);
        long stopped = stops.Sum(stop => stop.Ticks - Math.Max(0, host.TicksWithin(stop.Begin, stop.End) - (stop.End - stop.Begin - stop.Ticks)));
        bool isRuntimes = stopped >= underrun.LateTicks;
        bool isMachines = stood >= underrun.LateTicks;
        Cause cause = isRuntimes && !isMachines ? Cause.Runtime
            : isMachines && !isRuntimes ? Cause.Machine
            : stood + stopped >= underrun.LateTicks ? Cause.Both
            : Cause.Other;
        missedBy[cause] = missedBy.GetValueOrDefault(cause) + times;
        if (cause != Cause.Machine && underrun.Timestamp > began)
        {
            string beside = string.Join(" + ", stops.Select(Words).Append($"machine {Milliseconds(stood):0.00} ms").Append($"the call itself {Milliseconds(underrun.CallTicks):0.00} ms"));
            told.Add($"{Milliseconds(underrun.LateTicks):0.00} ms late after {Milliseconds(underrun.Timestamp - began) / 1000:0.0} s, {beside}");
        }
    }

    private string Causes()
    {
        if (missed == 0)
        {
            return string.Empty;
        }

        string counts = $" ({missedBy.GetValueOrDefault(Cause.Machine)} because the machine stood still, {missedBy.GetValueOrDefault(Cause.Runtime)} for a stop of the runtime, {missedBy.GetValueOrDefault(Cause.Both)} for both together, {missedBy.GetValueOrDefault(Cause.Other)} else";
        return told.Count == 0 ? counts + ")" : $"{counts}: {string.Join("; ", told.Take(ShownCauses))})";
    }

    private static string Words(RuntimeStop stop) =>
        $"{(stop.IsConcurrent ? "concurrent " : string.Empty)}generation {stop.Generation} {stop.Milliseconds:0.00} ms";

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
