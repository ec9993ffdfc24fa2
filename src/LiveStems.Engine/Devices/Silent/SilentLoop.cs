namespace LiveStems.Engine.Devices.Silent;

/// <summary>
/// The work of a silent device: at every multiple of the period since it began, a buffer is due, while others wait to be
/// played, as in a sound device. When a buffer is not ready before the last of those has been played, the device has run dry:
/// that is an underrun, and so is every period that passes meanwhile; then it goes on at the next multiple.
/// </summary>
internal sealed class SilentLoop
{
    private readonly IPeriodClock clock;
    private readonly IAudioRenderer renderer;
    private readonly int sampleRate;
    private readonly int waitingBuffers;
    private readonly AudioStatistics statistics;
    private readonly float[] left;
    private readonly float[] right;
    private readonly long start;
    private long period;
    private long punctual;

    internal SilentLoop(IPeriodClock clock, IAudioRenderer renderer, DeviceSettings settings, AudioStatistics statistics)
    {
        this.clock = clock;
        this.renderer = renderer;
        this.statistics = statistics;
        sampleRate = settings.SampleRate;
        waitingBuffers = settings.WaitingBuffers(sampleRate);
        left = GC.AllocateArray<float>(settings.BufferFrames, pinned: true);
        right = GC.AllocateArray<float>(settings.BufferFrames, pinned: true);
        start = clock.Now;
        punctual = start;
    }

    internal void RunPeriod()
    {
        long due = start + TicksOf(period);
        if (clock.Now < due)
        {
            punctual = due;
        }

        clock.WaitUntil(due);
        long begun = clock.Now;
        statistics.Lateness.Add(begun - due);
        AudioCall.Run(renderer, left, right, sampleRate, statistics);
        long ready = clock.Now;
        long missed = PeriodsIn(ready - start) - period - (waitingBuffers - 1);
        if (missed > 0)
        {
            statistics.AddUnderruns(missed, new Underrun(ready, punctual, ready - start - TicksOf(period + waitingBuffers), ready - begun));
        }

        period += 1 + Math.Max(0, missed);
    }

    // Rounded up, so that PeriodsIn is its inverse.
    private long TicksOf(long periods) =>
        (long)(((((Int128)periods * left.Length * clock.Frequency) + sampleRate) - 1) / sampleRate);

    private long PeriodsIn(long ticks) => (long)((Int128)ticks * sampleRate / ((long)left.Length * clock.Frequency));
}
