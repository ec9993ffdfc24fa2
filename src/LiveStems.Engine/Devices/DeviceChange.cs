namespace LiveStems.Engine.Devices;

/// <summary>A device to be opened.</summary>
/// <param name="Choice">As for <see cref="AudioDevices.Open(string?, DeviceSettings)"/>.</param>
/// <param name="Settings">Rate and buffer wanted.</param>
internal sealed record DeviceOrder(string? Choice, DeviceSettings Settings);

/// <summary>What came of a <see cref="DeviceChange"/>.</summary>
/// <param name="Opened">The device that is open now; null where none could be had.</param>
/// <param name="Order">What it was opened by.</param>
/// <param name="Fault">Why it is not the one that was wanted; null where it is.</param>
internal sealed record DeviceOutcome(OpenedDevice? Opened, DeviceOrder Order, string? Fault)
{
    /// <summary>True when it has been started.</summary>
    public bool IsPlaying { get; init; }

    /// <summary>What it plays; null where it has not been started.</summary>
    public FadingRenderer? Fading { get; init; }
}

/// <summary>
/// One device in place of another, elsewhere than on the control thread: closes the one, opens and starts the other; where
/// that cannot be had, the one before again.
/// </summary>
/// <remarks>
/// Closed before opened: many devices take one stream at a time, and the system is only asked for its devices anew while none
/// is open.
/// </remarks>
internal sealed class DeviceChange
{
    private readonly Lock gate = new();
    private readonly IDeviceSource source;
    private readonly AudioStatistics statistics;
    private readonly IAudioRenderer? renderer;
    private IAudioDevice? playing;
    private bool isCalledOff;

    /// <summary>Begins.</summary>
    /// <param name="source">Where devices come from.</param>
    /// <param name="statistics">Counts that go on over all devices.</param>
    /// <param name="renderer">What is to be played; null for nothing.</param>
    /// <param name="close">Closes what is open; returns when no call is under way any more.</param>
    /// <param name="wanted">The device to open.</param>
    /// <param name="before">The device to open where that cannot be had.</param>
    public DeviceChange(IDeviceSource source, AudioStatistics statistics, IAudioRenderer? renderer, Action close, DeviceOrder wanted, DeviceOrder before)
    {
        this.source = source;
        this.statistics = statistics;
        this.renderer = renderer;
        Work = Task.Run(() =>
        {
            close();
            source.List(isAskedAnew: true);
            return TryOpen(wanted, out string fault) ?? TryOpen(before, out _) switch
            {
                { } back => back with { Fault = fault },
                null => new DeviceOutcome(null, before, fault),
            };
        });
    }

    /// <summary>The work.</summary>
    public Task<DeviceOutcome> Work { get; }

    /// <summary>What came of it, once the work is done.</summary>
    public DeviceOutcome Outcome(DeviceOrder before) =>
        Work.IsCompletedSuccessfully ? Work.Result : new DeviceOutcome(null, before, Work.Exception?.InnerException?.Message ?? string.Empty);

    /// <summary>Nothing is to be played any more: what plays stops, what has not begun does not begin.</summary>
    public void CallOff()
    {
        lock (gate)
        {
            isCalledOff = true;
            playing?.Stop();
            playing = null;
        }
    }

    private DeviceOutcome? TryOpen(DeviceOrder order, out string fault)
    {
        OpenedDevice? opened = null;
        try
        {
            opened = source.Open(order.Choice, order.Settings, statistics);
            fault = string.Empty;
            return Started(opened, order);
        }
        catch (AudioDeviceException refused)
        {
            opened?.Device.Dispose();
            fault = refused.Message;
            return null;
        }
    }

    private DeviceOutcome Started(OpenedDevice opened, DeviceOrder order)
    {
        DeviceOutcome outcome = new(opened, order, null);
        lock (gate)
        {
            if (isCalledOff || renderer is null)
            {
                return outcome;
            }

            FadingRenderer fading = FadingRenderer.Of(renderer, order.Settings, opened.Device, fadesIn: true);
            opened.Device.Start(fading);
            playing = opened.Device;
            return outcome with { IsPlaying = true, Fading = fading };
        }
    }
}
