using LiveStems.Engine.Devices.Native;
using LiveStems.Engine.Devices.Silent;

namespace LiveStems.Engine.Devices;

/// <summary>A device that plays to nobody and keeps the time of one that does, for machines without sound.</summary>
public sealed class SilentDevice : IAudioDevice
{
    private const uint TimerMilliseconds = 1;

    private readonly DeviceSettings settings;
    private Thread? thread;
    private volatile bool isStopping;

    /// <summary>A silent device at exactly the rate and buffer wanted.</summary>
    /// <exception cref="AudioDeviceException">The settings are out of range.</exception>
    public SilentDevice(DeviceSettings settings)
        : this(settings, new AudioStatistics())
    {
    }

    internal SilentDevice(DeviceSettings settings, AudioStatistics statistics)
    {
        settings.Check();
        this.settings = settings;
        Statistics = statistics;
    }

    /// <inheritdoc/>
    public string Name => "silent device";

    /// <inheritdoc/>
    public int SampleRate => settings.SampleRate;

    /// <inheritdoc/>
    public int BufferFrames => settings.BufferFrames;

    /// <inheritdoc/>
    public double LatencySeconds => settings.WaitingSeconds(SampleRate);

    /// <inheritdoc/>
    public bool IsAlive => true;

    /// <inheritdoc/>
    public AudioStatistics Statistics { get; }

    /// <summary>False to run like any other thread, for measurements; set before <see cref="Start"/>.</summary>
    internal bool WantsRealTime { get; init; } = true;

    /// <inheritdoc/>
    public void Start(IAudioRenderer renderer)
    {
        Stop();
        isStopping = false;
        thread = new Thread(() => Run(renderer)) { Name = "silent device", IsBackground = true };
        thread.Start();
    }

    /// <inheritdoc/>
    public void Stop()
    {
        isStopping = true;
        thread?.Join();
        thread = null;
    }

    /// <inheritdoc/>
    public void Dispose() => Stop();

    private void Run(IAudioRenderer renderer)
    {
        Statistics.SetPriority(WantsRealTime ? AudioThread.RaiseOurs() : AudioThreadPriority.Normal);
        if (OperatingSystem.IsWindows())
        {
            _ = WindowsTimer.Begin(TimerMilliseconds);
        }

        SystemPeriodClock clock = new();
        Warm(clock);
        SilentLoop loop = new(clock, renderer, settings, Statistics);
        while (!isStopping)
        {
            loop.RunPeriod();
        }

        if (OperatingSystem.IsWindows())
        {
            _ = WindowsTimer.End(TimerMilliseconds);
        }
    }

    // Compiles and binds all that a period runs through, so that the first ones are on time.
    private void Warm(SystemPeriodClock clock)
    {
        DeviceSettings brief = settings with { BufferFrames = DeviceSettings.LeastBufferFrames };
        SilentLoop trial = new(clock, SilenceRenderer.Instance, brief, new AudioStatistics());
        trial.RunPeriod();
        trial.RunPeriod();
    }
}
