using System.Diagnostics;
using System.Numerics;

namespace LiveStems.Engine.Devices;

/// <summary>
/// How durations are distributed, from nanoseconds to a minute, each to 3 %. One thread adds, which costs no memory and
/// never waits; any thread reads.
/// </summary>
public sealed class DurationHistogram
{
    // 32 steps of equal width in every octave; below 32 ns every nanosecond has its own.
    private const int StepBits = 5;
    private const int StepsPerOctave = 1 << StepBits;
    private const int Octaves = 32;
    private const double NanosecondsPerSecond = 1e9;

    private static readonly double NanosecondsPerTick = NanosecondsPerSecond / Stopwatch.Frequency;

    private readonly long[] counts = new long[StepsPerOctave * Octaves];
    private long count;
    private long worst;

    /// <summary>Durations added.</summary>
    public long Count => Volatile.Read(ref count);

    /// <summary>The longest in seconds, exactly.</summary>
    public double WorstSeconds => Volatile.Read(ref worst) / NanosecondsPerSecond;

    /// <summary>Adds a duration in ticks of <see cref="Stopwatch"/>; a negative one counts as none.</summary>
    public void Add(long ticks)
    {
        long nanoseconds = Math.Max(0, (long)(ticks * NanosecondsPerTick));
        ref long step = ref counts[StepOf(nanoseconds)];
        Volatile.Write(ref step, step + 1);
        if (nanoseconds > worst)
        {
            Volatile.Write(ref worst, nanoseconds);
        }

        Volatile.Write(ref count, count + 1);
    }

    /// <summary>
    /// The seconds that this share of the durations (0 to 1) did not pass: at least the true quantile, at most 1/32 above
    /// it; 0 when there are none.
    /// </summary>
    public double SecondsAt(double quantile)
    {
        long wanted = Math.Max(1, (long)Math.Ceiling(quantile * Count));
        long seen = 0;
        for (int step = 0; step < counts.Length; step++)
        {
            seen += Volatile.Read(ref counts[step]);
            if (seen >= wanted)
            {
                return Math.Min(LastOf(step) / NanosecondsPerSecond, WorstSeconds);
            }
        }

        return WorstSeconds;
    }

    /// <summary>How many of the durations lie within so many seconds: those whose step ends there or before.</summary>
    public long CountWithin(double seconds)
    {
        double nanoseconds = seconds * NanosecondsPerSecond;
        long within = 0;
        for (int step = 0; step < counts.Length && (LastOf(step) <= nanoseconds || Volatile.Read(ref worst) <= nanoseconds); step++)
        {
            within += Volatile.Read(ref counts[step]);
        }

        return within;
    }

    private static int StepOf(long nanoseconds)
    {
        if (nanoseconds < StepsPerOctave)
        {
            return (int)nanoseconds;
        }

        int shift = BitOperations.Log2((ulong)nanoseconds) - StepBits;
        return shift >= Octaves - 1
            ? (StepsPerOctave * Octaves) - 1
            : (shift * StepsPerOctave) + (int)(nanoseconds >> shift);
    }

    // The longest duration that falls in the step.
    private static long LastOf(int step)
    {
        if (step < StepsPerOctave)
        {
            return step;
        }

        int shift = (step / StepsPerOctave) - 1;
        return (((long)(step - (shift * StepsPerOctave)) + 1) << shift) - 1;
    }
}
