using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>Playing: where it stands, how long it is, play, loop, whole album, recording, dim and level of the monitor.</summary>
internal sealed class TransportView : Control
{
    private const float TimeUnits = 118;
    private const float LeastUnits = 282;
    private const float AlbumUnits = 52;
    private const float RecordUnits = 78;
    private const float Between = 4;

    // In a narrower window only the line at its foot says what these would.
    private const float WideUnits = 1200;

    private readonly AlbumDesk desk;
    private readonly Stack row = Stack.Row(Between);
    private readonly Button album;
    private readonly Button record;
    private (string Time, double LengthSeconds) shown = (string.Empty, 0);

    public TransportView(AlbumDesk desk)
    {
        this.desk = desk;
        Add(row);
        row.Add(new TextButton(() => desk.Transport.IsPlaying ? "stop" : "play", desk.Transport.Toggle) { Tip = "Plays, or stops where it is. Space." }, Length.Of(52));
        row.Add(new TextButton(() => desk.Transport.Loop is { } loop ? $"loop {TimeText.Of(loop.Start)}–{TimeText.Of(loop.End)}" : "no loop", desk.Transport.ClearLoop) { Tip = "Drag along the lanes to loop a stretch; press here to play on." }, Length.Of(104));
        album = row.Add(new Button("album", desk.ToggleWholeAlbum) { IsOn = () => desk.IsWholeAlbum, Tip = "Hears songs as they stand on the album, one after the other, with their gaps, cuts, fades and cross-fades. Shift+A." }, Length.Of(AlbumUnits));
        record = row.Add(new Button("record", () => desk.Recording.Toggle()) { IsOn = () => desk.Recording.IsRunning, OnTone = Tone.Alarm, Tip = $"Writes what you hear to a file in the album's folder “{RecordingModel.FolderName}”, until you press again. Shift+R." }, Length.Of(RecordUnits));
        row.Add(new Button("dim", desk.Monitor.ToggleDim) { IsOn = () => desk.Monitor.Settings.IsDimmed, OnTone = Tone.Reduction, Tip = $"Turns the monitor down by {-desk.Monitor.Settings.DimDb:0} dB. It starts dimmed: set your listening level low first." }, Length.Of(44));
        row.Add(new ValueBox(new MonitorLevel(desk.Monitor)) { IsNameless = true }, Length.Of(66));
    }

    private (string Time, double LengthSeconds) Wanted =>
        (TimeText.Of(desk.Transport.PositionSeconds, withTenths: true), desk.Transport.LengthSeconds);

    private Box TimeBox => new(Bounds.X, Bounds.Y, TimeUnits, Bounds.Height);

    public void Update()
    {
        record.Text = desk.Recording.IsRunning ? $"rec {TimeText.Of(desk.Recording.Seconds)}" : "record";
        if (Wanted != shown)
        {
            Host?.MarkDirty(TimeBox);
        }
    }

    public override Extent Measure(ITextRuler ruler)
    {
        bool isWide = Host?.Root.Bounds.Width >= WideUnits;
        album.IsVisible = record.IsVisible = isWide;
        return new(TimeUnits + LeastUnits + (isWide ? AlbumUnits + RecordUnits + 2 * Between : 0), 30);
    }

    public override void Draw(Painter painter)
    {
        shown = Wanted;
        painter.Text(shown.Time, new(Bounds.X, Bounds.Y, 66, Bounds.Height), Tone.Text, Lettering.Large, Side.Right);
        painter.Text($"/ {TimeText.Of(shown.LengthSeconds)}", new(Bounds.X + 72, Bounds.Y + 1, 46, Bounds.Height), Tone.Quiet);
    }

    protected override void ArrangeChildren(ITextRuler ruler) =>
        row.Arrange(new(Bounds.X + TimeUnits, Bounds.CentreY - 12, Bounds.Width - TimeUnits, 24), ruler);

    /// <summary>Level of the monitor, −60 to 0 dB.</summary>
    private sealed class MonitorLevel(MonitorModel monitor) : IValueModel
    {
        private const double Lowest = -60;

        private static readonly ParameterSpec Spec = new("level", "level", ParameterUnit.Decibels, Lowest, 0, 0, Taper.Linear, "Level of the monitor; never part of a render. A double press leaves it as it is: nothing turns it up at once.");

        public string Name => Spec.Name;

        public string Description => Spec.Description;

        public string Text => FrequencyText.OfDb(monitor.Settings.LevelDb);

        public double Travel => 1 - monitor.Settings.LevelDb / Lowest;

        public double DefaultTravel => 1;

        public bool IsStepped => false;

        public string? SetText(string text)
        {
            if (!ParameterText.TryParse(Spec, text, out double level, out string fault))
            {
                return fault;
            }

            Set(level);
            return null;
        }

        public void Drag(double travel) => Set(Math.Round((1 - travel) * Lowest, 1));

        public void EndDrag()
        {
        }

        public void Step(int steps, bool isFine) => monitor.ChangeLevel(steps * (isFine ? 0.1 : 1));

        public void Next()
        {
        }

        public void Reset()
        {
            // As loud as can be is what it would be otherwise: a slip of the hand must not do that to the ears.
        }

        private void Set(double level) => monitor.Change(settings => settings with { LevelDb = level });
    }
}
