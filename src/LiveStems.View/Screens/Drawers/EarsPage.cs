using System.Globalization;
using LiveStems.Engine.Monitor;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>An estimate of how much sound the ears have had, and the calibration that it needs.</summary>
internal sealed class EarsPage(AlbumDesk desk) : DrawerPage(desk)
{
    public override string Id => "ears";

    public override string Name => "ears";

    public override string Key => "9";

    public override string Purpose => "What the ears get, and how much sound they have had";

    public override string Explanation => Desk.Exposure.IsCalibrated
        ? ExposureModel.Caution
        : "Once: play the pink noise, read a level meter (A, slow) where you sit, and type the reading below. Begin with the monitor low.";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => "pink noise", () => Done(() => Desk.Monitor.ToggleSignal(MonitorSignal.PinkNoise)), "Plays pink noise in place of the music, to set the level by.") { IsOn = () => Desk.Monitor.Settings.Signal == MonitorSignal.PinkNoise },
        new(() => "dim", () => Done(Desk.Monitor.ToggleDim), "Turns the monitor down.") { IsOn = () => Desk.Monitor.Settings.IsDimmed },
        new(() => "tone", () => Done(() => Desk.Monitor.ToggleSignal(MonitorSignal.Tone)), "Plays a tone of 1 kHz in place of the music, to find a channel or set a level by.") { IsOn = () => Desk.Monitor.Settings.Signal == MonitorSignal.Tone },
        Channels("mono", MonitorChannels.Mono, "Hears (L+R)/2 on both sides: what is left on one loudspeaker. H."),
        Channels("side", MonitorChannels.Side, "Hears (L−R)/2 on both sides: only what makes the song wide. Shift+H."),
        new(() => "swap", () => Done(Desk.Monitor.ToggleSwap), "Exchanges left and right: is it the song that leans to one side, or the room? Y.") { IsOn = () => Desk.Monitor.Settings.IsSwapped },
        new(() => "count anew", () => Done(Desk.Exposure.Clear), "Another day, or other ears."),
    ];

    public override DrawerEntry Entry => new(() => "what the level meter reads, in dB(A)", Desk.Exposure.Reading.SetText);

    public override IReadOnlyList<ValueField> Values => Desk.Monitor.Fields;

    public override string ValuesName => "the monitor: never part of a render";

    public override object State => (Desk.Exposure.IsCalibrated, Shown(Desk.Exposure.LevelDbA), Shown(Desk.Exposure.DayPercent), Shown(Desk.Exposure.WeekPercent), Since);

    public override IReadOnlyList<DrawerLine> Lines()
    {
        ExposureModel exposure = Desk.Exposure;
        return !exposure.IsCalibrated ? [] :
        [
            new("level where you sit, about", exposure.LevelDbA is { } level && double.IsFinite(level) ? $"{level:0} dB(A)" : "silence"),
            new($"of what a working day allows, since {Since}", $"{exposure.DayPercent:0.0} %", "NIOSH: 85 dB(A) for eight hours, half as long for every 3 dB more") { Tone = Warn(exposure.DayPercent) },
            new($"of what a week allows, since {Since}", $"{exposure.WeekPercent:0.0} %", "WHO-ITU H.870, adults: 80 dB(A) for 40 hours") { Tone = Warn(exposure.WeekPercent) },
            new("at this level it may go on today for", exposure.HoursLeftToday is { } hours ? hours > 24 ? "as long as you like" : $"{hours:0.0} h" : "–"),
        ];
    }

    private string Since => Desk.Exposure.Since.ToString("H:mm", CultureInfo.InvariantCulture);

    private DrawerButton Channels(string words, MonitorChannels channels, string tip) =>
        new(() => words, () => Done(() => Desk.Monitor.ToggleChannels(channels)), tip) { IsOn = () => Desk.Monitor.Settings.Channels == channels };

    private static Tone Warn(double? percent) => percent >= 100 ? Tone.Alarm : percent >= 50 ? Tone.Reduction : Tone.Text;

    private static double? Shown(double? value) => value is { } given ? Math.Round(given, 1) : null;
}
