namespace LiveStems.Engine.Devices.Silent;

/// <summary>
/// The work of a silent device: at every multiple of the period since it began, a buffer is due. A buffer that is not
/// ready when the next is due is an underrun, and so is every period that passes meanwhile; then it goes on at the next
/// multiple, as a sound device does.
/// </summary>
internal sealed class SilentLoop
{
    private readonly IPeriodClock clock;
    private readonly IAudioRenderer renderer;
    private readonly int sampleRate;
    private readonly AudioStatistics statistics;
    private readonly float[] left;
    private readonly float[] right;
    private readonly long start;
    private long period;

    internal SilentLoop(IPeriodClock clock, IAudioRenderer renderer, DeviceSettings settings, AudioStatistics statistics)
    {
        this.clock = clock;
        this.renderer = renderer;
        this.statistics = statistics;
        sampleRate = settings.SampleRate;
        left = GC.AllocateArray<float>(settings.BufferFrames, pinned: true);
        right = GC.AllocateArray<float>(settings.BufferFrames, pinned: true);
        start = clock.Now;
    }

    internal void RunPeriod()
    {
        long due = start + TicksOf(period);
        clock.WaitUntil(due);
        statistics.Lateness.Add(clock.Now - due);
        AudioCall.Run(renderer, left, right, sampleRate, statistics);
        long ready = clock.Now - start;
        long missed = PeriodsIn(ready) - period;
        if (missed > 0)
        {
            statistics.AddUnderruns(missed, ready - TicksOf(period + 1));
        }

        period += 1 + Math.Max(0, missed);
    }

    // Rounded up, so that PeriodsIn is its inverse.
    private long TicksOf(long periods) =>
        (long)(((((Int128)periods * left.Length * clock.Frequency) + sampleRate) - 1) / sampleRate);

    private long PeriodsIn(long ticks) => (long)((Int128)ticks * sampleRate / ((long)left.Length * clock.Frequency));
}
