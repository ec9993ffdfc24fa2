using LiveStems.Albums.Model;
using LiveStems.Engine.Devices;
using LiveStems.Processing.Contract;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>The sound devices by the part of the system that offers them, the silent one, and how much sound they ask for at a time.</summary>
internal sealed class DevicesPage(AlbumDesk desk) : DrawerPage(desk)
{
    private const int CautionFrames = 128;

    private static readonly AlbumField Buffer = new(
        new ParameterSpec(
            "buffer", "Buffer", ParameterUnit.None, DeviceSettings.LeastBufferFrames, DeviceSettings.MostBufferFrames, DeviceSettings.UsualBufferFrames, Taper.Stepped, "Frames that the device asks for at a time."),
        "frames");

    public override string Id => "devices";

    public override string Name => "devices";

    public override string Key => "F5";

    public override string Purpose => "The sound device";

    public override string SearchWords => "output interface headphones loudspeaker buffer frames latency host silent";

    public override string Explanation => Desk.Devices.Words + (Desk.Devices.CanChoose ? ". Enter plays to another, and keeps it for the next time." : ". It was given when the window was opened.");

    public override IReadOnlyList<DrawerButton> Buttons => !Desk.Devices.CanChoose ? [] :
    [
        new(() => "look again", Desk.Devices.LookAgain, "Lists what has been connected since; the sound stops for a moment."),
    ];

    public override DrawerEntry? Entry => !Desk.Devices.CanChoose ? null : new(() => $"frames at a time: {Buffer.FormatRange()}", SetBuffer);

    public override object State => (Desk.Devices.Revision, Desk.Devices.Words);

    public override void Opened() => Desk.Devices.Look();

    public override IReadOnlyList<DrawerLine> Lines() => !Desk.Devices.CanChoose ? [] :
    [
        new DrawerLine("whatever the system plays to", Detail: Desk.Devices.Choice is null && Desk.Devices.Playing is { } now ? $"now {now.Label}" : "chosen anew each time an album is opened")
        {
            IsOn = Desk.Devices.Choice is null,
            Act = () => Desk.Devices.Choose(null),
        },
        .. Found(),
        DrawerLine.Heading("without sound"),
        new DrawerLine("silent", Detail: "keeps the time of a device and plays to nobody")
        {
            IsOn = Desk.Devices.Choice is not null && Desk.Devices.Playing is null,
            Act = () => Desk.Devices.Choose(AudioDevices.Silent),
        },
        DrawerLine.Heading("asked for at a time", "a change is heard the sooner, the less it is"),
        .. DevicesModel.Buffers.Select(LineOf),
    ];

    private IEnumerable<DrawerLine> Found() => Desk.Devices.List switch
    {
        null => [new DrawerLine("looking for devices") { Tone = Tone.Quiet }],
        { Problem: { } problem } => [new DrawerLine(problem) { Tone = Tone.Trouble }],
        { } list => list.Devices.GroupBy(device => device.HostApi).SelectMany(host => host.Select(LineOf).Prepend(DrawerLine.Heading(host.Key))),
    };

    private DrawerLine LineOf(DeviceDescription device) => new(
        device.Name,
        $"{device.DefaultSampleRate / 1000.0:0.#} kHz",
        $"{(device.IsStereo ? $"{device.OutputChannels} channels" : "one channel only")} · latency {device.LowLatencySeconds * 1000:0.0} to {device.HighLatencySeconds * 1000:0.0} ms{(device.IsDefault ? " · what the system plays to" : string.Empty)}")
    {
        Tone = device.IsStereo ? Tone.Text : Tone.Quiet,
        IsOn = Desk.Devices.Choice is not null && Desk.Devices.Playing is { } playing && playing.Label == device.Label,
        Act = () => device.IsStereo ? Desk.Devices.Choose(device.Label) : $"{device.Label} has one channel only: choose one with two or more",
    };

    private DrawerLine LineOf(int frames) => new(
        Buffer.Format(frames),
        $"{1000.0 * frames / Desk.Device.SampleRate:0.0} ms",
        frames == DeviceSettings.UsualBufferFrames ? "the usual" : frames <= CautionFrames ? "asks more of the machine: look at the load, and for drop-outs" : string.Empty)
    {
        IsOn = Desk.Devices.BufferFrames == frames,
        Act = () => Desk.Devices.SetBuffer(frames),
    };

    private string? SetBuffer(string text) => Buffer.TryParse(text, out double frames, out string fault) ? Desk.Devices.SetBuffer((int)frames) : fault;
}
