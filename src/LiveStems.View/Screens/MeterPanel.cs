using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Plots;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>
/// Meters of the master in EBU Mode (EBU Tech 3341): momentary, short-term, integrated, range, true peak. The bars stand
/// below the numbers, or beside them where the panel is wider than a column.
/// </summary>
internal sealed class MeterPanel : Control
{
    private const float ScaleUnits = 26;
    private const float NumbersUnits = 178;
    private const float MainUnits = 67;
    private const float WideUnits = 360;
    private const float MainWidthUnits = 116;
    private const float LinesWidthUnits = 142;
    private const float LinesUnits = 94;
    private const float BetweenUnits = 12;
    private const float WidestBarsUnits = 360;
    private const float ButtonUnits = 21;
    private const float BarNameUnits = 16;
    private const double PeakFloorDbtp = -42;
    private const float ScaleTextUnits = 13;

    private readonly AlbumDesk desk;
    private readonly Bars bars;
    private readonly Stack row = Stack.Row(3);
    private double sinceNumbers;
    private MeterReadings shown = MeterReadings.Silence;
    private (bool IsRelative, bool IsWideScale, bool IsRunning) shownWays;
    private Box main;
    private Box lines;

    public MeterPanel(AlbumDesk desk)
    {
        this.desk = desk;
        Tip = "The master before the monitor: M is loudness over 0.4 s, S over 3 s, L and R true peak; the lines mark what is aimed at and the ceiling.";
        bars = Add(new Bars());
        Add(row);
        row.Add(new TextButton(() => desk.Meters.IsRelative ? "LU" : "LUFS", () => desk.Meters.IsRelative = !desk.Meters.IsRelative) { Tip = "Loudness relative to the target, or absolute." }, Length.Rest());
        row.Add(new TextButton(() => desk.Meters.IsWideScale ? "+18" : "+9", () => desk.Meters.IsWideScale = !desk.Meters.IsWideScale) { Tip = "The scale: −18 to +9 LU, or −36 to +18 LU (EBU Tech 3341)." }, Length.Rest());
        row.Add(new TextButton(() => desk.Meters.IsRunning ? "pause" : "go on", desk.Meters.ToggleRunning) { Tip = "Holds the integrated values." }, Length.Rest());
        row.Add(new Button("reset", desk.Meters.Reset) { Tip = "Starts integrated loudness, range and maxima anew." }, Length.Rest());
    }

    /// <summary>Where the bars stand.</summary>
    public Box BarsBox => bars.Bounds;

    public void Update(double seconds)
    {
        MeterReadings now = desk.Meters.Readings;
        double mark = Share(desk.Meters.ReferenceLufs);
        double ceiling = PeakShare(desk.Meters.CeilingDbtp);
        bars.Meters.Set(0, Share(now.MomentaryLufs), Share(now.MaximumMomentaryLufs), mark, null);
        bars.Meters.Set(1, Share(now.ShortTermLufs), Share(now.MaximumShortTermLufs), mark, null);
        bars.Meters.Set(2, PeakShare(now.LeftTruePeakDbtp), PeakShare(now.MaximumTruePeakDbtp), ceiling, ceiling);
        bars.Meters.Set(3, PeakShare(now.RightTruePeakDbtp), PeakShare(now.MaximumTruePeakDbtp), ceiling, ceiling);
        bars.IsMoving = true;
        (bool, bool, bool) ways = (desk.Meters.IsRelative, desk.Meters.IsWideScale, desk.Meters.IsRunning);
        if (ways != shownWays)
        {
            shownWays = ways;
            Redraw();
        }

        sinceNumbers += seconds;
        if (sinceNumbers > 0.1 && now != shown)
        {
            sinceNumbers = 0;
            shown = now;
            Host?.MarkDirty(main.Around(lines));
        }
    }

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Panel, radius: 4);
        MeterReadings now = shown;
        painter.Text("integrated", new(main.X, main.Y, main.Width, 14), Tone.Quiet, Lettering.Small);
        string[] integrated = desk.Meters.Format(now.IntegratedLufs).Split(' ');
        painter.Text(integrated[0], new(main.X, main.Y + 14, main.Width - 30, 34), IntegratedTone(now), Lettering.Huge);
        painter.Text(integrated[1], new(main.X, main.Y + 22, main.Width, 24), Tone.Quiet, side: Side.Right);
        painter.Text(desk.Meters.ReferenceWords, new(main.X, main.Y + 48, main.Width, 14), Tone.Quiet, Lettering.Small);
        float y = lines.Y;
        Line(painter, lines, ref y, "short-term", desk.Meters.Format(now.ShortTermLufs), Tone.Text);
        Line(painter, lines, ref y, "range", $"{now.LoudnessRangeLu:0.0} LU", Tone.Text);
        Line(painter, lines, ref y, "true peak", FrequencyText.OfDb(now.MaximumTruePeakDbtp, "dBTP"), now.MaximumTruePeakDbtp > desk.Meters.CeilingDbtp + 0.05 ? Tone.Alarm : Tone.Text);
        Line(painter, lines, ref y, "peak to loudness", now.PeakToLoudnessLu is { } ratio ? $"{ratio:0.0} LU" : "– LU", Tone.Text);
        painter.Text("correlation", new(lines.X, y, 80, 16), Tone.Quiet, Lettering.Small);
        Box scale = new(lines.X + 66, y + 5, lines.Width - 66, 6);
        painter.Fill(scale, Tone.Raised, radius: 2);
        float middle = scale.CentreX;
        float at = middle + (float)now.Correlation * scale.Width / 2;
        if (double.IsFinite(now.MomentaryLufs))
        {
            painter.Fill(Box.Between(Math.Min(middle, at), scale.Y, Math.Max(middle, at), scale.Bottom), now.Correlation < 0 ? Tone.Alarm : Tone.Input);
        }

        painter.Line(middle, scale.Y - 2, middle, scale.Bottom + 2, Tone.Quiet);
        DrawScale(painter);
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        Box inner = Bounds.Inset(10, 6);
        if (inner.Width < WideUnits)
        {
            main = inner with { Height = MainUnits };
            lines = Box.Between(inner.X, inner.Y + MainUnits, inner.Right, Bounds.Y + NumbersUnits);
            row.Arrange(new(inner.X, inner.Bottom - ButtonUnits, inner.Width, ButtonUnits), ruler);
            bars.Arrange(Box.Between(inner.X + ScaleUnits, lines.Bottom + 4, inner.Right - ScaleUnits, Math.Max(lines.Bottom + 4, inner.Bottom - 2 * ButtonUnits)), ruler);
            return;
        }

        main = inner with { Width = MainWidthUnits, Height = MainUnits };
        lines = new(main.Right + BetweenUnits, inner.Y, LinesWidthUnits, LinesUnits);
        row.Arrange(new(inner.X, lines.Bottom + 3, lines.Right - inner.X, ButtonUnits), ruler);
        float left = lines.Right + BetweenUnits + ScaleUnits;
        bars.Arrange(Box.Between(left, inner.Y + 6, Math.Min(inner.Right - ScaleUnits, left + WidestBarsUnits), Math.Max(inner.Y + 6, inner.Bottom - BarNameUnits)), ruler);
    }

    private static void Line(Painter painter, in Box inner, ref float y, string name, string reading, Tone tone)
    {
        painter.Text(name, new(inner.X, y, inner.Width, 18), Tone.Quiet);
        painter.Text(reading, new(inner.X, y, inner.Width, 18), tone, side: Side.Right);
        y += 19;
    }

    private void DrawScale(Painter painter)
    {
        Box box = bars.Bounds;
        (double low, double high) = desk.Meters.ScaleLu;
        double step = desk.Meters.IsWideScale ? 6 : 3;
        step *= box.Height * step / (high - low) < ScaleTextUnits ? 3 : 1;
        for (double level = low; level <= high; level += step)
        {
            float y = box.Bottom - (float)((level - low) / (high - low)) * box.Height;
            painter.Line(box.X - 4, y, box.X - 1, y, Tone.Edge);
            double shownLevel = desk.Meters.IsRelative ? level : level + desk.Meters.ReferenceLufs;
            painter.Text($"{shownLevel:0}".Replace('-', '−'), new(box.X - 32, y - 7, 26, 14), level == 0 ? Tone.Text : Tone.Quiet, Lettering.Small, Side.Right);
        }

        double peakStep = box.Height * 6 / -PeakFloorDbtp < ScaleTextUnits ? 18 : 6;
        for (double level = -36; level <= 0; level += peakStep)
        {
            float y = box.Bottom - (float)PeakShare(level) * box.Height;
            painter.Line(box.Right + 1, y, box.Right + 4, y, Tone.Edge);
            painter.Text($"{level:0}".Replace('-', '−'), new(box.Right + 6, y - 7, 26, 14), Tone.Quiet, Lettering.Small);
        }

        string[] names = ["M", "S", "L", "R"];
        for (int i = 0; i < names.Length; i++)
        {
            painter.Text(names[i], new(box.X + i * box.Width / 4, box.Bottom + 2, box.Width / 4, 14), Tone.Quiet, Lettering.Small, Side.Centre);
        }
    }

    private Tone IntegratedTone(MeterReadings now) =>
        !double.IsFinite(now.IntegratedLufs) ? Tone.Quiet : desk.Meters.IsOnTarget ? Tone.Good : Tone.Text;

    private double Share(double lufs)
    {
        (double low, double high) = desk.Meters.ScaleLu;
        return double.IsFinite(lufs) ? (lufs - desk.Meters.ReferenceLufs - low) / (high - low) : 0;
    }

    private static double PeakShare(double dbtp) => double.IsFinite(dbtp) ? (dbtp - PeakFloorDbtp) / -PeakFloorDbtp : 0;

    private sealed class Bars : PlotControl
    {
        public MeterPlot Meters { get; } = new(4);

        public override IPlot Plot => Meters;
    }
}
