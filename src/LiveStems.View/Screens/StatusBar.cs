using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The band that is heard alone, the latest message, work in the background, the device and its load.</summary>
internal sealed class StatusBar : Control
{
    private const string Caution = "Loud sound harms hearing for good: set your level low, then let go of dim (D).";
    private const double MessageSeconds = 12;
    private const double RemarkSeconds = 6;
    private const float JobUnits = 300;
    private const float CancelUnits = 46;

    private readonly AlbumDesk desk;
    private readonly BandNotice band;
    private string shown = string.Empty;
    private double sinceLook = 1;
    private Box cancel;

    public StatusBar(AlbumDesk desk)
    {
        this.desk = desk;
        band = Add(new BandNotice(desk));
    }

    public override PointerShape PointerShape => PointerShape.Arrow;

    public void Update(double seconds)
    {
        band.Update();
        sinceLook += seconds;
        if (sinceLook < 0.25)
        {
            return;
        }

        sinceLook = 0;
        if ($"{Message().Text}|{JobText()}|{DeviceText()}" != shown)
        {
            Redraw();
        }
    }

    public override void Draw(Painter painter)
    {
        (string message, Tone tone) = Message();
        string job = JobText();
        string device = DeviceText();
        shown = $"{message}|{job}|{device}";
        Box room = band.IsVisible ? Box.Between(band.Bounds.Right + 10, Bounds.Y, Bounds.Right, Bounds.Bottom) : Bounds;
        float wanted = painter.Fonts.Width(message, Lettering.Plain) + 24;
        // The words come first; where there is no room for both, the device says less, and then nothing unless something was lost.
        foreach (string shorter in new[] { LoadText(), $"{StateText()}{LostText()}".TrimEnd(' ', '·') })
        {
            device = wanted + painter.Fonts.Width(device, Lettering.Small) > room.Width ? shorter : device;
        }

        painter.Text(device, room, Tone.Quiet, Lettering.Small, Side.Right);
        float right = device.Length == 0 ? room.Right : room.Right - painter.Fonts.Width(device, Lettering.Small) - 18;
        cancel = default;
        if (job.Length > 0)
        {
            // What was refused comes before what runs.
            float units = Math.Min(JobUnits, tone == Tone.Alarm && wanted > right - room.X - JobUnits ? CancelUnits : (right - room.X) * 0.6f);
            Box box = new(right - units, Bounds.Y + 2, units, Bounds.Height - 4);
            cancel = Box.Between(box.Right - CancelUnits, box.Y, box.Right, box.Bottom);
            painter.Fill(box, Tone.Raised, radius: 3);
            painter.Fill(box with { Width = box.Width * (float)(desk.Jobs.All.FirstOrDefault(each => each.IsOpen)?.Share ?? 0) }, Tone.Input, 0.35f, 3);
            painter.Text(job, Box.Between(box.X + 7, box.Y, cancel.X - 2, box.Bottom), Tone.Text, Lettering.Small);
            painter.Text("cancel", cancel, Tone.Text, Lettering.Small, Side.Centre);
            right = box.X - 10;
        }

        Box place = Box.Between(room.X, Bounds.Y, right, Bounds.Bottom);
        // What does not fit is written smaller before it is cut; resting on it tells all.
        Lettering lettering = painter.Fonts.Width(message, Lettering.Plain) <= place.Width ? Lettering.Plain : Lettering.Small;
        painter.Text(message, place, tone, lettering);
        Tip = painter.Fonts.Width(message, lettering) <= place.Width ? string.Empty : message;
    }

    public override bool Press(in PointerEvent pointer)
    {
        if (cancel.Contains(pointer.X, pointer.Y))
        {
            desk.Jobs.All.FirstOrDefault(each => each.IsOpen)?.Cancel();
        }

        return false;
    }

    protected override void ArrangeChildren(ITextRuler ruler) =>
        band.Arrange(Bounds with { Width = Math.Min(Bounds.Width, BandNotice.UnitsIn(Bounds.Width)) }, ruler);

    private (string Text, Tone Tone) Message()
    {
        bool isDimmed = desk.Monitor.Settings.IsDimmed;
        if (desk.Messages.Count > 0 && desk.Messages[^1] is { } latest)
        {
            bool isRemark = latest.Kind == MessageKind.Remark;
            if ((DateTimeOffset.Now - latest.At).TotalSeconds < (isRemark && isDimmed ? RemarkSeconds : MessageSeconds))
            {
                return (latest.Text, isRemark ? Tone.Quiet : Tone.Alarm);
            }
        }

        return isDimmed ? (Caution, Tone.Reduction) : ("? lists all keys · / finds any command", Tone.Quiet);
    }

    private string JobText() => desk.Jobs.All.FirstOrDefault(each => each.IsOpen) is { } job
        ? $"{job.Words} {job.Share * 100:0} %{(job.SecondsLeft is { } left ? $", {TimeText.Of(left)} left" : string.Empty)}"
        : string.Empty;

    private string DeviceText() => $"{StateText()}{desk.Device.Name} · {desk.Device.SampleRate / 1000.0:0.#} kHz · {LoadText(withState: false)}";

    private string LoadText(bool withState = true) => $"{(withState ? StateText() : string.Empty)}{(LostText() is { Length: > 0 } lost ? $"{Load()} · {lost}" : Load())}";

    // How it is played, where that is not the usual way; said in the narrowest window too.
    private string StateText() => $"{RecordingText()}{(desk.IsWholeAlbum ? "whole album · " : string.Empty)}{(desk.AreChainsOut ? "no chains · " : string.Empty)}";

    private string RecordingText() => desk.Recording is { IsRunning: true } recording
        ? $"recording {TimeText.Of(recording.Seconds)}{(recording.HasGaps ? ", with gaps" : string.Empty)} · "
        : string.Empty;

    private string Load() => $"load {desk.Device.Statistics.Load * 100:0} %";

    private string LostText() => desk.Device.Statistics.Underruns is > 0 and var lost ? $"{lost} drop-out{(lost == 1 ? string.Empty : "s")}" : string.Empty;
}
