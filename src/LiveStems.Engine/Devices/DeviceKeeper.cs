namespace LiveStems.Engine.Devices;

/// <summary>
/// A device that outlives its own loss: it is opened by choice, watched, and opened again when it comes back. Sound is
/// converted where the device runs at another rate. It fades out before the device is stopped, and in when one returns.
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
    private readonly TimeProvider time;
    private DeviceSettings settings;
    private IAudioDevice? device;
    private IAudioRenderer? renderer;
    private FadingRenderer? fading;
    private Task<IAudioDevice?>? search;
    private DeviceChange? change;
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
        Description = opened.Description;
        Choice = Asked(choice);
        Name = device.Name;
        DeviceSampleRate = device.SampleRate;
        Message = opened.Summary;
    }

    /// <inheritdoc/>
    public string Name { get; private set; }

    /// <summary>What was asked for, by name, since numbers change: as for <see cref="AudioDevices.Open(string?, DeviceSettings)"/>.</summary>
    public string? Choice { get; private set; }

    /// <summary>What was opened; null for the silent device.</summary>
    public DeviceDescription? Description { get; private set; }

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
            return lastLatency + (fading?.Converter?.AheadSeconds ?? 0);
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

    /// <summary>Why the latest change did not come about; null where it did.</summary>
    public string? Fault { get; private set; }

    private string? Asked(string? choice) => choice is null ? null : Description?.Label ?? AudioDevices.Silent;

    private DeviceOrder Present => new(Description?.Label ?? AudioDevices.Silent, settings);

    /// <summary>The devices to choose from, as the system told them last; any thread may ask.</summary>
    public DeviceList Devices() => source.List(isAskedAnew: false);

    /// <summary>
    /// Opens another device in place of this one, or the same one again, and asks the system for its devices anew. The sound
    /// pauses meanwhile; nothing waits. <see cref="Update"/> tells when it is done; then the other device plays or, with a
    /// <see cref="Fault"/>, the one before. Not while a change is under way.
    /// </summary>
    /// <param name="choice">As for <see cref="AudioDevices.Open(string?, DeviceSettings)"/>.</param>
    /// <param name="bufferFrames">Frames it is to ask for at a time.</param>
    /// <exception cref="AudioDeviceException">The buffer is out of range.</exception>
    /// <exception cref="InvalidOperationException">A change is under way.</exception>
    public void Change(string? choice, int bufferFrames)
    {
        DeviceSettings wanted = settings with { BufferFrames = bufferFrames };
        wanted.Check();
        if (change is not null)
        {
            throw new InvalidOperationException("a device is being opened already");
        }

        IAudioDevice? closing = device;
        FadingRenderer? leaving = fading;
        Task<IAudioDevice?>? searching = search;
        (device, search, fading) = (null, null, null);
        change = new DeviceChange(source, Statistics, renderer, () => Close(closing, leaving, searching), new DeviceOrder(choice, wanted), Present);
        State = KeptDeviceState.Changing;
        Message = $"opening {choice ?? "the device that the system plays to"}";
    }

    /// <inheritdoc/>
    public void Start(IAudioRenderer renderer)
    {
        this.renderer = renderer;
        if (State is not (KeptDeviceState.Lost or KeptDeviceState.Changing))
        {
            Play(isReturned: false);
            State = KeptDeviceState.Playing;
        }
    }

    /// <inheritdoc/>
    public void Stop()
    {
        renderer = null;
        change?.CallOff();
        if (device is not null)
        {
            fading?.LeaveBefore(device);
            device.Stop();
        }

        AwaitLastCall();
        fading = null;
        if (State is not (KeptDeviceState.Lost or KeptDeviceState.Changing))
        {
            State = KeptDeviceState.Ready;
        }
    }

    /// <summary>Looks after the device and says how it is.</summary>
    public KeptDeviceState Update()
    {
        if (change is not null)
        {
            ContinueChange(change);
        }
        else if (State == KeptDeviceState.Lost)
        {
            ContinueSearch();
        }
        else if (device is { IsAlive: true })
        {
            State = renderer is null ? KeptDeviceState.Ready : KeptDeviceState.Playing;
        }
        else
        {
            Lose($"{Name} has gone: waiting for it to come back");
        }

        return State;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        renderer = null;
        change?.CallOff();
        device?.Dispose();
        device = null;
        AwaitLastCall();
        search?.ContinueWith(static ended => ended.Result?.Dispose(), TaskContinuationOptions.OnlyOnRanToCompletion);
        change?.Work.ContinueWith(static ended => ended.Result.Opened?.Device.Dispose(), TaskContinuationOptions.OnlyOnRanToCompletion);
        (search, change) = (null, null);
    }

    // A device that has gone is closed elsewhere; not longer than this, should the system never let it go.
    private void AwaitLastCall()
    {
        if ((search ?? (Task?)change?.Work) is { } closing)
        {
            Task.WaitAny([closing], LongestClosing);
        }
    }

    private static void Close(IAudioDevice? open, FadingRenderer? leaving, Task<IAudioDevice?>? searching)
    {
        if (open is not null)
        {
            leaving?.LeaveBefore(open);
            open.Dispose();
        }

        if (searching is not null)
        {
            ((IAsyncResult)searching).AsyncWaitHandle.WaitOne();
            (searching.IsCompletedSuccessfully ? searching.Result : null)?.Dispose();
        }
    }

    private void ContinueChange(DeviceChange under)
    {
        if (!under.Work.IsCompleted)
        {
            return;
        }

        change = null;
        DeviceOutcome outcome = under.Outcome(Present);
        Fault = outcome.Fault;
        if (outcome.Opened is not { } opened)
        {
            Lose($"{Fault}; waiting for {Name} to come back");
            return;
        }

        (device, fading, settings) = (opened.Device, outcome.Fading, outcome.Order.Settings);
        Description = opened.Description;
        Choice = Fault is null ? Asked(outcome.Order.Choice) : Choice;
        Name = device.Name;
        DeviceSampleRate = device.SampleRate;
        Message = Fault is null ? opened.Summary : $"{Fault}; going on with {Name}";
        State = renderer is null ? KeptDeviceState.Ready : KeptDeviceState.Playing;
        if (renderer is not null && !outcome.IsPlaying && !TryPlay())
        {
            Lose($"{Name} does not start: waiting for it to come back");
        }
    }

    private void Lose(string message)
    {
        State = KeptDeviceState.Lost;
        Message = message;
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
            return Description is null ? null : source.Reopen(Description, settings, Statistics);
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
            Play(isReturned: true);
            return true;
        }
        catch (AudioDeviceException)
        {
            return false;
        }
    }

    private void Play(bool isReturned)
    {
        if (renderer is not null && device is not null)
        {
            fading = FadingRenderer.Of(renderer, settings, device, fadesIn: isReturned);
            device.Start(fading);
        }
    }
}
