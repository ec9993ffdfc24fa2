using LiveStems.Engine.Devices;

namespace LiveStems.View.Desk;

/// <summary>The sound devices there are, and which of them plays; another may be chosen at any time, the music goes on in it.</summary>
/// <remarks>Choosing is a matter of the room, not of the album: it is kept in the user's settings and not undone.</remarks>
public sealed class DevicesModel
{
    /// <summary>Buffers to choose from, in frames; any other from <see cref="DeviceSettings.LeastBufferFrames"/> on may be typed.</summary>
    public static IReadOnlyList<int> Buffers { get; } = [64, 128, DeviceSettings.UsualBufferFrames, 512, 1024, 2048];

    private readonly AlbumDesk desk;
    private Task<DeviceList>? listing;
    private Order? wish;
    private Order? underWay;
    private Missing? missing;

    internal DevicesModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>Counts up whenever devices or the choice are others.</summary>
    public long Revision { get; private set; }

    /// <summary>The devices as they were listed last; null before the first time.</summary>
    public DeviceList? List { get; private set; }

    /// <summary>False where the device was given once and for all.</summary>
    public bool CanChoose => Keeper is not null && !IsFixed;

    /// <summary>True to let nobody choose.</summary>
    public bool IsFixed { get; set; }

    /// <summary>What was chosen, as for <c>--device</c>; null for whatever the system plays to.</summary>
    public string? Choice => Coming is { } order ? order.Choice : Keeper?.Choice;

    /// <summary>Frames that the device asks for at a time.</summary>
    public int BufferFrames => Coming?.BufferFrames ?? desk.Device.BufferFrames;

    /// <summary>The device that plays; null for the silent one.</summary>
    public DeviceDescription? Playing => Keeper?.Description;

    /// <summary>True while a device is being opened.</summary>
    public bool IsChanging => Coming is not null;

    /// <summary>True while the device that played is gone and waited for.</summary>
    public bool IsLost => Keeper?.State == KeptDeviceState.Lost;

    /// <summary>What plays, in the words that <c>play</c> says: name, rate, buffer, latency and reason; or what has become of it.</summary>
    public string Words => Keeper?.Message ?? $"{desk.Device.Name}: {desk.Device.SampleRate} Hz, {desk.Device.BufferFrames} frames";

    /// <summary>Told what plays, to be kept for the next time: the device, whether somebody chose it just now, and the buffer.</summary>
    public Action<string?, bool, int> Kept { get; set; } = (_, _, _) => { };

    /// <summary>What was wanted when the desk was opened could not be had: the silent device stands in, and it is asked for again.</summary>
    internal void Miss(string? choice) => missing = new Missing(choice);

    private string? Meant => missing is { } wanted && Coming is null ? wanted.Choice : Choice;

    private Order? Coming => wish ?? underWay;

    private DeviceKeeper? Keeper => desk.Device as DeviceKeeper;

    /// <summary>Lists the devices, on another thread.</summary>
    public void Look()
    {
        if (Keeper is { } keeper)
        {
            listing = desk.Jobs.Beside(keeper.Devices);
        }
    }

    /// <summary>Plays to a device from now on. Null, or why not; whether it opens shows later.</summary>
    /// <param name="choice">A name of the list with its host API, part of one, "silent", or null for whatever the system plays to.</param>
    public string? Choose(string? choice) => Ask(new Order(choice, BufferFrames, IsChosen: true));

    /// <summary>Has the device ask for so many frames at a time. Null, or what is wrong.</summary>
    public string? SetBuffer(int frames) => Ask(new Order(Meant, frames, Coming?.IsChosen ?? false));

    /// <summary>Asks the system for its devices anew, which takes the present one away for a moment. Null, or why not.</summary>
    public string? LookAgain() => Ask(new Order(Meant, BufferFrames, Coming?.IsChosen ?? false));

    internal void Update()
    {
        if (listing is { IsCompleted: true } listed)
        {
            listing = null;
            List = listed.IsCompletedSuccessfully ? listed.Result : List;
            Revision++;
        }

        if (Keeper is not { } keeper || keeper.State == KeptDeviceState.Changing)
        {
            return;
        }

        if (underWay is { } done)
        {
            underWay = null;
            Tell(keeper, done);
        }

        // The player starts its device on another thread; until then it is left alone.
        if (wish is { } next && desk.Player.HasStarted)
        {
            (wish, underWay) = (null, next);
            keeper.Change(next.Choice, next.BufferFrames);
            Revision++;
        }
    }

    private string? Ask(Order order)
    {
        if (!CanChoose)
        {
            return desk.Refuse("the sound device was given when the window was opened and cannot be chosen here");
        }

        try
        {
            new DeviceSettings(desk.Device.SampleRate, order.BufferFrames).Check();
        }
        catch (AudioDeviceException fault)
        {
            return desk.Refuse(fault.Message);
        }

        wish = order;
        Revision++;
        return null;
    }

    private void Tell(DeviceKeeper keeper, Order done)
    {
        if (keeper.Fault is null)
        {
            missing = null;
            Kept(keeper.Choice, done.IsChosen, done.BufferFrames);
            desk.Say(MessageKind.Remark, keeper.Message);
        }
        else if (keeper.State != KeptDeviceState.Lost)
        {
            desk.Say(MessageKind.Trouble, keeper.Message);
        }

        Look();
        Revision++;
    }

    private sealed record Order(string? Choice, int BufferFrames, bool IsChosen);

    private sealed record Missing(string? Choice);
}
