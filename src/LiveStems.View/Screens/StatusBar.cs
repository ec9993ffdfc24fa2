using LiveStems.Engine.Live;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens.Drawers;

namespace LiveStems.View.Screens;

/// <summary>The band that is heard alone, the latest message, work in the background, what is not as usual, the device and its load.</summary>
internal sealed class StatusBar : Control
{
    private const string Caution = "Loud sound harms hearing for good: set your level low, then let go of dim (D).";
    private const string Hint = $"? lists all keys · / finds any command · {MessagesPage.OwnKey} lists what was said";
    private const double MessageSeconds = 12;
    private const double RemarkSeconds = 6;
    private const float JobUnits = 300;
    private const float CancelUnits = 46;

    // Between the message and what stands at the right.
    private const float Apart = 18;

    // Of the width: what states may take where they and the message do not fit together.
    private const float StatesShare = 0.6f;

    private readonly AlbumDesk desk;
    private readonly BandNotice band;
    private readonly DeskStates states;
    private string shown = string.Empty;
    private double sinceLook = 1;
    private Box cancel;

    public StatusBar(AlbumDesk desk)
    {
        this.desk = desk;
        band = Add(new BandNotice(desk));
        states = new DeskStates(desk);
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
        if (Shown() != shown)
        {
            Redraw();
        }
    }

    public override void Draw(Painter painter)
    {
        (string message, Tone tone) = Message();
        string job = JobText();
        shown = Shown();
        Box room = band.IsVisible ? Box.Between(band.Bounds.Right + 10, Bounds.Y, Bounds.Right, Bounds.Bottom) : Bounds;
        // What only helps makes no room for itself.
        float wanted = message == Hint ? 0 : painter.Fonts.Width(message, Lettering.Plain) + Apart;
        StatusStates fitting = StatesWithin(painter.Fonts, room.Width - wanted);
        float taken = Math.Min(fitting.Width(painter.Fonts), Math.Max(room.Width - wanted, room.Width * StatesShare));
        fitting.Draw(painter, Box.Between(room.Right - taken, room.Y, room.Right, room.Bottom));
        float right = taken == 0 ? room.Right : room.Right - taken - Apart;
        cancel = default;
        if (job.Length > 0)
        {
            // What was refused comes before what runs.
            float units = Math.Min(JobUnits, tone == Tone.Alarm && wanted > right - room.X - JobUnits ? CancelUnits : (right - room.X) * 0.6f);
            Box box = new(right - units, Bounds.Y + 2, units, Bounds.Height - 4);
            cancel = Box.Between(box.Right - CancelUnits, box.Y, box.Right, box.Bottom);
            painter.Fill(box, Tone.Raised, radius: 3);
            painter.Fill(box with { Width = box.Width * (float)(desk.Jobs.Current?.Share ?? 0) }, Tone.Input, 0.35f, 3);
            painter.Text(job, Box.Between(box.X + 7, box.Y, cancel.X - 2, box.Bottom), Tone.Text, Lettering.Small);
            painter.Text("cancel", cancel, Tone.Text, Lettering.Small, Side.Centre);
            right = box.X - 10;
        }

        Box place = Box.Between(room.X, Bounds.Y, right, Bounds.Bottom);
        // What does not fit is written smaller before it is cut; resting on it tells all.
        Lettering lettering = painter.Fonts.Width(message, Lettering.Plain) <= place.Width ? Lettering.Plain : Lettering.Small;
        painter.Text(message, place, tone, lettering);
        bool isMessageCut = painter.Fonts.Width(message, lettering) > place.Width;
        bool areStatesCut = taken < fitting.Width(painter.Fonts);
        Tip = string.Join(". ", new[] { isMessageCut ? message : string.Empty, areStatesCut ? $"{fitting.Warnings}{fitting.Choices}{fitting.Device}" : string.Empty }.Where(cut => cut.Length > 0));
    }

    public override bool Press(in PointerEvent pointer)
    {
        if (cancel.Contains(pointer.X, pointer.Y))
        {
            desk.Tell(desk.Jobs.CallOff());
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

        return isDimmed ? (Caution, Tone.Reduction) : (Hint, Tone.Quiet);
    }

    private string JobText() => desk.Jobs.Current is not { } job ? string.Empty
        : job.Cancellation.IsCancellationRequested ? $"calling off: {job.Words}"
        : $"{job.Words} {job.Share * 100:0} %{(job.SecondsLeft is { } left ? $", {TimeText.Of(left)} left" : string.Empty)}";

    private StatusStates StatesWithin(ITextRuler ruler, float room) => StatusStates.Fit(
        [.. states.Warnings],
        [.. RecordingWords(), .. states.Choices],
        [$"{desk.Device.Name} · {desk.Device.SampleRate / 1000.0:0.#} kHz · {LoadText()}", LoadText(), LostText()],
        ruler,
        room);

    private IEnumerable<StateWords> RecordingWords()
    {
        if (desk.Recording is { IsRunning: true } recording)
        {
            string time = TimeText.Of(recording.Seconds);
            yield return new($"recording {time}{(recording.HasGaps ? ", with gaps" : string.Empty)}", $"rec {time}{(recording.HasGaps ? ", gaps" : string.Empty)}");
        }
    }

    private string Shown() => string.Join(
        '|',
        [Message().Text, JobText(), .. states.Warnings.Concat(RecordingWords()).Concat(states.Choices).Select(each => each.Words), desk.Device.Name, LoadText()]);

    private string LoadText() => $"load {desk.Device.Statistics.Load * 100:0} %{(LostText() is { Length: > 0 } lost ? $" · {lost}" : string.Empty)}";

    private string LostText() => desk.Device.Statistics.Underruns is > 0 and var lost ? $"{lost} drop-out{(lost == 1 ? string.Empty : "s")}" : string.Empty;
}
