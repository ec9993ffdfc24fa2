using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Plots;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>The spectrum with what belongs to it: the row of choices, the picture of how it went by, the frequency axis.</summary>
internal sealed class SpectrumView : Control
{
    private const float RowUnits = 24;
    private const float HeadingUnits = 600;
    private const float SmallUnits = 540;
    private const float NarrowUnits = 440;
    private const float TiltUnits = 74;
    private const float NarrowTiltUnits = 62;
    private const float AxisUnits = 30;
    private const float NotesBelow = 14;
    private const float GutterUnits = 32;
    private const double LevelMarkDb = 12;
    private const float OctaveUnits = 26;
    private const float SmallestPlotUnits = 120;
    private const float WaterfallUnits = 58;
    private const int Rows = 128;

    private static readonly double[] Tilts = [0, 3, 6];

    private readonly AlbumDesk desk;
    private readonly Stack row = Stack.Row(4);
    private readonly WaterfallControl waterfall = new();
    private readonly Button peaks;
    private readonly Button past;
    private readonly TextButton tilt;
    private readonly Label heading;
    private long shownFrame = -1;

    public SpectrumView(AlbumDesk desk)
    {
        this.desk = desk;
        Spectrum = Add(new SpectrumControl(desk));
        Add(waterfall);
        Add(row);
        heading = row.Add(new Label("spectrum", Tone.Quiet, Lettering.Small), Length.Of(56));
        row.Add(new LiveLabel(() => desk.Spectrum.ShowsSong ? "of the song" : $"of {desk.Chain.Name}{(desk.Chain.Selected is { } slot ? $", {slot.Name}" : string.Empty)}", Tone.Text), Length.Rest());
        AddToggle("song", () => desk.Spectrum.ShowsSong, () => desk.Spectrum.ShowsSong = !desk.Spectrum.ShowsSong, "Shows the whole song, whatever is chosen. Q.");
        peaks = AddToggle("peaks", () => Spectrum.ShowsPeaks, () => Spectrum.ShowsPeaks = !Spectrum.ShowsPeaks, "The highest that every frequency has reached: for two seconds, or, after Shift+E, until it is cleared. Shift+P.");
        AddToggle("long-term", () => Spectrum.ShowsLongTerm, () => Spectrum.ShowsLongTerm = !Spectrum.ShowsLongTerm, "The mean since it was cleared: what the whole stretch sounds like. Shift+L.");
        AddToggle("spread", () => Spectrum.ShowsSpread, () => Spectrum.ShowsSpread = !Spectrum.ShowsSpread, "Between these levels the sound stays eight tenths of the time: from the 10th to the 90th percentile. Shift+W.");
        past = AddToggle("past", () => waterfall.IsVisible, () => waterfall.IsVisible = !waterfall.IsVisible, "How the spectrum went by, the newest at the lower edge. K.");
        AddToggle("hold", () => desk.Spectrum.IsFrozen, () => desk.Spectrum.IsFrozen = !desk.Spectrum.IsFrozen, "Freezes the picture; the sound goes on. E.");
        row.Add(new Button("clear", desk.Spectrum.Clear) { IsFlat = true, Tip = "Starts peaks, long-term mean and spread anew. Shift+Q." }, Length.Fit);
        tilt = row.Add(new TextButton(() => desk.Spectrum.TiltDbPerOctave == 0 ? "level" : $"+{desk.Spectrum.TiltDbPerOctave:0.#} dB/oct", NextTilt) { Tip = "Slope added for the eye; at level, pink noise is a flat line. T." }, Length.Of(TiltUnits));
    }

    public SpectrumControl Spectrum { get; }

    public override bool ClipsChildren => true;

    public void ToggleWaterfall() => waterfall.IsVisible = !waterfall.IsVisible;

    public void NextTilt() => desk.Spectrum.TiltDbPerOctave = Tilts[(Array.IndexOf(Tilts, desk.Spectrum.TiltDbPerOctave) + 1) % Tilts.Length];

    public void Update(double seconds)
    {
        Spectrum.Update(seconds);
        SpectrumFrame frame = desk.Spectrum.Frame;
        waterfall.IsMoving = waterfall.IsVisible && desk.Transport.IsPlaying && frame.Number != shownFrame;
        if (waterfall.IsMoving)
        {
            waterfall.Past.Add(frame.Output.Live);
        }

        shownFrame = frame.Number;
        string words = desk.Spectrum.HoldsPeaks ? "peaks stay" : "peaks";
        if (peaks.Text != words)
        {
            peaks.Text = words;
            Host?.MarkLayout();
        }
    }

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Panel, radius: 4);
        Box plot = Spectrum.Bounds;
        painter.Fill(plot.Around(waterfall.IsVisible && !waterfall.Bounds.IsEmpty ? waterfall.Bounds : plot), Tone.Well);
        DrawFrequencies(painter, plot);
        DrawOctaves(painter, plot.Bottom + NotesBelow);
        DrawLevels(painter, plot);
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        Box inner = Bounds.Inset(8, 3);
        heading.IsVisible = inner.Width >= HeadingUnits;
        foreach (Button button in row.Children.OfType<Button>())
        {
            button.IsSmall = inner.Width < SmallUnits;
        }

        bool hasRoom = inner.Height - RowUnits - AxisUnits - WaterfallUnits >= SmallestPlotUnits;
        bool isNarrow = inner.Width < NarrowUnits;
        past.IsVisible = hasRoom || !isNarrow;
        tilt.IsSmall = isNarrow;
        row.SetSpace(isNarrow ? 2 : 4, 0);
        row.SetLength(row.Children.Count - 1, Length.Of(isNarrow ? NarrowTiltUnits : TiltUnits));
        row.Arrange(new(inner.X, inner.Y, inner.Width, RowUnits - 3), ruler);
        float top = inner.Y + RowUnits;
        if (waterfall.IsVisible && !hasRoom)
        {
            waterfall.Arrange(new(inner.X, top, 0, 0), ruler);
        }
        else if (waterfall.IsVisible)
        {
            waterfall.Arrange(new(inner.X, top, inner.Width - GutterUnits, WaterfallUnits), ruler);
            top += WaterfallUnits + 2;
        }

        Spectrum.Arrange(Box.Between(inner.X, top, inner.Right - GutterUnits, inner.Bottom - AxisUnits), ruler);
    }

    private void DrawFrequencies(Painter painter, in Box plot)
    {
        float free = plot.X - 10;
        foreach (double mark in SpectrumControl.Axis.Marks())
        {
            string label = LogFrequencyAxis.Label(mark);
            float half = painter.Fonts.Width(label, Lettering.Small) / 2;
            float x = Math.Min(Math.Max(Spectrum.X(mark), plot.X + half), plot.Right - half);
            if (x - half > free)
            {
                painter.Text(label, new(x - 24, plot.Bottom + 1, 48, 15), Tone.Quiet, Lettering.Small, Side.Centre);
                free = x + half + 3;
            }
        }
    }

    // The octaves stand on a line of their own, each beginning at its C.
    private void DrawOctaves(Painter painter, float y)
    {
        float octaveUnits = Spectrum.X(NoteName.OfC(5)) - Spectrum.X(NoteName.OfC(4));
        int step = octaveUnits >= OctaveUnits ? 1 : octaveUnits * 2 >= OctaveUnits ? 2 : 4;
        for (int octave = 1; octave <= 10; octave++)
        {
            float x = Spectrum.X(NoteName.OfC(octave));
            painter.Line(x, y + 1, x, y + NotesBelow - 2, Tone.Input);
            if (octave % step == 0 || step == 1)
            {
                painter.Text($"C{octave}", Box.Between(x + 4, y, Math.Min(x + 30, Bounds.Right), y + NotesBelow), Tone.Input, Lettering.Small);
            }
        }
    }

    private void DrawLevels(Painter painter, in Box plot)
    {
        (double bottom, double top) = Spectrum.RangeDb;
        float free = plot.Y - 8;
        for (double level = Math.Floor(top / LevelMarkDb) * LevelMarkDb; level > bottom; level -= LevelMarkDb)
        {
            float y = Spectrum.Y(level);
            painter.Line(plot.Right, y, plot.Right + 3, y, Tone.Edge);
            if (y - 7 >= free && y + 7 <= plot.Bottom + 2)
            {
                painter.Text(FrequencyText.OfDb(level, string.Empty, 0).Trim(), new(plot.Right + 4, y - 7, GutterUnits - 6, 14), Tone.Quiet, Lettering.Small, Side.Right);
                free = y + 6;
            }
        }
    }

    private Button AddToggle(string text, Func<bool> isOn, Action press, string tip) =>
        row.Add(new Button(text, press) { IsOn = isOn, IsFlat = true, Tip = tip }, Length.Fit);

    private sealed class WaterfallControl : PlotControl
    {
        public WaterfallPlot Past { get; } = new(SpectrumModel.Points, Rows) { Span = SpectrumControl.PointSpan };

        public override IPlot Plot => Past;
    }
}
