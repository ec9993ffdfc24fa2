using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The latest message, work in the background, the device and its load.</summary>
internal sealed class StatusBar(AlbumDesk desk) : Control
{
    private const string Caution = "Loud sound harms hearing for good: set your level low, then let go of dim (D).";
    private const double MessageSeconds = 12;
    private const double RemarkSeconds = 6;
    private const float JobUnits = 300;

    private string shown = string.Empty;
    private double sinceLook = 1;
    private Box cancel;

    public override PointerShape PointerShape => PointerShape.Arrow;

    public void Update(double seconds)
    {
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
        // The words come first; where there is no room for both, the device says less.
        if (painter.Fonts.Width(message, Lettering.Plain) + painter.Fonts.Width(device, Lettering.Small) + 24 > Bounds.Width)
        {
            device = LoadText();
        }

        float deviceWidth = painter.Fonts.Width(device, Lettering.Small) + 4;
        painter.Text(device, Bounds, Tone.Quiet, Lettering.Small, Side.Right);
        float right = Bounds.Right - deviceWidth - 14;
        cancel = default;
        if (job.Length > 0)
        {
            Box box = new(right - JobUnits, Bounds.Y + 2, JobUnits, Bounds.Height - 4);
            painter.Fill(box, Tone.Raised, radius: 3);
            painter.Fill(box with { Width = box.Width * (float)(desk.Jobs.All.FirstOrDefault(each => each.IsOpen)?.Share ?? 0) }, Tone.Input, 0.35f, 3);
            painter.Text(job, box.Inset(7, 0), Tone.Text, Lettering.Small);
            cancel = Box.Between(box.Right - 46, box.Y, box.Right, box.Bottom);
            painter.Text("cancel", cancel, Tone.Text, Lettering.Small, Side.Centre);
            right = box.X - 10;
        }

        painter.Text(message, Box.Between(Bounds.X, Bounds.Y, right, Bounds.Bottom), tone);
    }

    public override bool Press(in PointerEvent pointer)
    {
        if (cancel.Contains(pointer.X, pointer.Y))
        {
            desk.Jobs.All.FirstOrDefault(each => each.IsOpen)?.Cancel();
        }

        return false;
    }

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

    private string DeviceText() => $"{desk.Device.Name} · {desk.Device.SampleRate / 1000.0:0.#} kHz · {LoadText()}";

    private string LoadText()
    {
        long lost = desk.Device.Statistics.Underruns;
        return $"load {desk.Device.Statistics.Load * 100:0} %{(lost > 0 ? $" · {lost} drop-outs" : string.Empty)}";
    }
}
