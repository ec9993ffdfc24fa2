using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>
/// What has happened on the audio thread: calls, underruns, and how long the calls took as a share of the time they had.
/// Written by the audio thread, read by any.
/// </summary>
public sealed class AudioStatistics
{
    // Shares of the deadline in steps of a half per cent, the last for all above.
    private const int Steps = 400;
    private const double StepShare = 0.005;

    private readonly long[] histogram = new long[Steps + 1];
    private long calls;
    private long underruns;
    private double worstShare;

    /// <summary>Times the device asked for sound.</summary>
    public long Calls => Volatile.Read(ref calls);

    /// <summary>Times it did not get the sound in time.</summary>
    public long Underruns => Volatile.Read(ref underruns);

    /// <summary>The longest call as a share of the time it had.</summary>
    public double WorstShare => Volatile.Read(ref worstShare);

    /// <summary>Audio thread: a call of so many ticks of <see cref="Stopwatch"/> for so many frames is over.</summary>
    public void AddCall(long ticks, int frames, int sampleRate)
    {
        double share = (double)ticks / Stopwatch.Frequency * sampleRate / frames;
        histogram[(int)Math.Min(Steps, share / StepShare)]++;
        if (share > worstShare)
        {
            Volatile.Write(ref worstShare, share);
        }

        Volatile.Write(ref calls, calls + 1);
    }

    /// <summary>Audio thread: the device ran dry.</summary>
    public void AddUnderrun() => Volatile.Write(ref underruns, underruns + 1);

    /// <summary>The share of the deadline that so many calls (0 to 1) stayed within, to a half per cent.</summary>
    public double ShareAt(double quantile)
    {
        long wanted = (long)Math.Ceiling(quantile * Calls);
        long seen = 0;
        for (int step = 0; step < histogram.Length; step++)
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
