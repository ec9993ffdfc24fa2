namespace LiveStems.Engine.Devices;

/// <summary>
/// A device that outlives its own loss: it is opened by choice, watched, and opened again when it comes back. Sound is
/// converted where the device runs at another rate.
/// </summary>
/// <remarks>
/// Belongs to one control thread, which calls <see cref="Update"/> regularly; that never waits: what may take time, closing
/// a dead device and looking for it, happens elsewhere. Only the device that went is taken back, never another, so that no
/// loudspeaker starts unasked when headphones are pulled out.
/// </remarks>
public sealed class DeviceKeeper : IAudioDevice
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    private static readonly TimeSpan LongestClosing = TimeSpan.FromSeconds(2);

    private readonly IDeviceSource source;
    private readonly DeviceSettings settings;
    private readonly TimeProvider time;
    private readonly DeviceDescription? description;
    private IAudioDevice? device;
    private IAudioRenderer? renderer;
    private ResamplingRenderer? converter;
    private Task<IAudioDevice?>? search;
    private long searchStart;
    private double lastLatency;

    /// <summary>Opens a device as <see cref="AudioDevices.Open(string?, DeviceSettings)"/> does.</summary>
    /// <exception cref="AudioDeviceException">It cannot be had.</exception>
    public DeviceKeeper(string? choice, DeviceSettings settings)
        : this(choice, settings, new SystemDeviceSource(), TimeProvider.System)
    {
    }

    internal DeviceKeeper(string? choice, DeviceSettings settings, IDeviceSource source, TimeProvider time)
    {
        this.settings = settings;
        this.source = source;
        this.time = time;
        OpenedDevice opened = source.Open(choice, settings, Statistics);
        device = opened.Device;
        description = opened.Description;
        Name = device.Name;
        DeviceSampleRate = device.SampleRate;
        Message = opened.Summary;
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <summary>The rate of the sound that it takes, as was wanted; the device may run at another.</summary>
    public int SampleRate => settings.SampleRate;

    /// <summary>The rate that the device runs at, in hertz.</summary>
    public int DeviceSampleRate { get; private set; }

    /// <inheritdoc/>
    public int BufferFrames => settings.BufferFrames;

    /// <inheritdoc/>
    public double LatencySeconds
    {
        get
        {
            lastLatency = device?.LatencySeconds ?? lastLatency;
            return lastLatency + (converter?.AheadSeconds ?? 0);
        }
    }

    /// <inheritdoc/>
    public bool IsAlive => State != KeptDeviceState.Lost;

    /// <summary>Counts since the first opening, over all returns.</summary>
    public AudioStatistics Statistics { get; } = new();

    /// <summary>What <see cref="Update"/> found last.</summary>
    public KeptDeviceState State { get; private set; } = KeptDeviceState.Ready;

    /// <summary>The latest news as one line for people: what was opened, that it has gone, that it is back.</summary>
    public string Message { get; private set; }

    /// <inheritdoc/>
    public void Start(IAudioRenderer renderer)
    {
        this.renderer = renderer;
        if (State != KeptDeviceState.Lost)
        {
            Play();
            State = KeptDeviceState.Playing;
        }
    }

    /// <inheritdoc/>
    public void Stop()
    {
        renderer = null;
        device?.Stop();
        AwaitLastCall();
        converter = null;
        if (State != KeptDeviceState.Lost)
        {
            State = KeptDeviceState.Ready;
        }
    }

    /// <summary>Looks after the device and says how it is.</summary>
    public KeptDeviceState Update()
    {
        if (State == KeptDeviceState.Lost)
        {
            ContinueSearch();
        }
        else if (device is { IsAlive: true })
        {
            State = renderer is null ? KeptDeviceState.Ready : KeptDeviceState.Playing;
        }
        else
        {
            Lose();
        }

        return State;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        renderer = null;
        device?.Dispose();
        device = null;
        AwaitLastCall();
        search?.ContinueWith(static ended => ended.Result?.Dispose(), TaskContinuationOptions.OnlyOnRanToCompletion);
        search = null;
    }

    // A device that has gone is closed elsewhere; not longer than this, should the system never let it go.
    private void AwaitLastCall()
    {
        if (search is not null)
        {
            Task.WaitAny([search], LongestClosing);
        }
    }

    private void Lose()
    {
        State = KeptDeviceState.Lost;
        Message = $"{Name} has gone: waiting for it to come back";
        BeginSearch();
    }

    private void BeginSearch()
    {
        IAudioDevice? gone = device;
        device = null;
        searchStart = time.GetTimestamp();
        search = Task.Run(() =>
        {
            gone?.Dispose();
            return description is null ? null : source.Reopen(description, settings, Statistics);
        });
    }

    private void ContinueSearch()
    {
        if (search is not { IsCompleted: true } || time.GetElapsedTime(searchStart) < Pause)
        {
            return;
        }

        device = search.IsCompletedSuccessfully ? search.Result : null;
        search = null;
        if (device is null || !TryPlay())
        {
            BeginSearch();
            return;
        }

        DeviceSampleRate = device.SampleRate;
        State = KeptDeviceState.Returned;
        Message = $"{Name} is back";
    }

    private bool TryPlay()
    {
        try
        {
            Play();
            return true;
        }
        catch (AudioDeviceException)
        {
            return false;
        }
    }

    private void Play()
    {
        if (renderer is not null && device is not null)
        {
            IAudioRenderer adapted = ResamplingRenderer.Adapt(renderer, SampleRate, device.SampleRate, BufferFrames);
            converter = adapted as ResamplingRenderer;
            device.Start(adapted);
        }
    }
}
