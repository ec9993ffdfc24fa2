using LiveStems.Analysis.Headroom;
using LiveStems.Analysis.Trouble;
using LiveStems.Engine.Live;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Plots;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>The song's stems as lanes over one time axis, parallels under their stems, the song bus last.</summary>
internal sealed class LaneView : Control
{
    private const float HeadEndUnits = 8;
    private const float RulerUnits = 20;
    private const float LargestLaneUnits = 40;
    private const float SmallestLaneUnits = 21;
    private const float AccountWordUnits = 60;
    private const int FollowMilliseconds = 250;

    private readonly AlbumDesk desk;
    private readonly LanePlotControl plot;
    private readonly TextButton account;
    private readonly List<LaneRow> rows = [];
    private readonly List<StemHead> heads = [];
    private LaneSet? shown;
    private long shownRevision = -1;
    private long shownAt;
    private float laneUnits = LargestLaneUnits;
    private int built = -1;
    private int shownSecond = -1;
    private (long, int) marksRevision;
    private TapPlace? shownAlone;
    private LaneColumns columns = LaneColumns.Widest;
    private (Control? Focus, int? Chosen) revealed;

    public LaneView(AlbumDesk desk)
    {
        this.desk = desk;
        plot = Add(new LanePlotControl(this, desk) { Tip = "Press to choose a stem and go to a place; drag along time to loop it, the right button ends the loop. The wheel scrolls, with Ctrl it zooms." });
        account = Add(new TextButton(() => desk.Work.IsAccountOld ? "LU, old" : columns.Account >= AccountWordUnits ? "headroom" : "LU", () => desk.Work.Account()) { IsFlat = true, Tip = "What each stem's treatment buys at the limiter, in LU: how much louder the song comes out for the same work of the limiter. Faint and 'old' once the song has been changed since. Press to measure." });
    }

    public override bool ClipsChildren => true;

    /// <summary>What stands in each lane.</summary>
    public IReadOnlyList<LaneRow> Rows => rows;

    /// <summary>Where the lanes are, right of the heads.</summary>
    public Box PlotBox => plot.Bounds;

    /// <summary>Where the time axis is.</summary>
    public Box AxisBox => plot.Bounds with { Width = plot.Bounds.Width - Lanes.MeterUnits };

    /// <summary>The loop as it is drawn, from 0 to 1: while one is being dragged, that one.</summary>
    public (double From, double To)? ShownLoop => Lanes.Loop;

    /// <summary>The part of the song that is in sight, from 0 to 1.</summary>
    public (double From, double To) Span => Lanes.Span;

    /// <summary>The gain reduction that is shown by itself in a lane, in dB by column: that of the chosen correction; null in all others.</summary>
    public IReadOnlyList<float>? Alone(int row) => Lanes.Alone(row);

    public float ScrollUnits { get; private set; }

    private LanePlot Lanes => plot.Lanes;

    /// <summary>Scrolls; false when everything is in sight.</summary>
    public bool ScrollBy(float units)
    {
        float most = Math.Max(0, rows.Count * laneUnits - plot.Bounds.Height);
        float wanted = Math.Clamp(ScrollUnits + units, 0, most);
        bool hasMoved = wanted != ScrollUnits;
        ScrollUnits = wanted;
        if (hasMoved)
        {
            Host?.MarkLayout();
        }

        return most > 0;
    }

    /// <summary>Shows more or less of the song, around a place from 0 to 1.</summary>
    public void Zoom(double factor, double around)
    {
        (double from, double to) = Lanes.Span;
        double length = Math.Clamp((to - from) * factor, Math.Min(1, 2 / Math.Max(2, desk.Transport.LengthSeconds)), 1);
        double share = (around - from) / (to - from);
        double start = Math.Clamp(around - share * length, 0, 1 - length);
        Lanes.Span = (start, start + length);
        Redraw();
    }

    public void ShowAll()
    {
        Lanes.Span = (0, 1);
        Redraw();
    }

    /// <summary>Takes in what is new.</summary>
    public void Update()
    {
        if (built != desk.SongIndex || !FitsRows())
        {
            // A song is shown from its first lane on.
            revealed = desk.SongIndex == built ? revealed : default;
            built = desk.SongIndex;
            Build();
        }

        if (shownRevision != desk.Lanes.Revision && (!ReferenceEquals(shown, desk.Lanes.Lanes) || Environment.TickCount64 - shownAt > FollowMilliseconds))
        {
            (int First, int Last)? changed = desk.Lanes.TakeChanged();
            bool isOther = !ReferenceEquals(shown, desk.Lanes.Lanes);
            shown = desk.Lanes.Lanes;
            shownRevision = desk.Lanes.Revision;
            shownAt = Environment.TickCount64;
            if (isOther || changed is null)
            {
                ShowLevels(shown);
            }
            else
            {
                ShowChanged(shown, changed.Value);
            }
        }

        if (shownAlone != desk.Selection && shown is not null)
        {
            ShowAlone(shown);
        }

        if (marksRevision != (desk.Finding.Revision, desk.Selection.Stem))
        {
            marksRevision = (desk.Finding.Revision, desk.Selection.Stem);
            Redraw();
        }

        double length = Math.Max(0.001, desk.Transport.LengthSeconds);
        Lanes.Now = desk.Transport.PositionSeconds / length;
        bool isHeld = Host?.Pressed is { } pressed && (pressed == plot || pressed == this);
        Lanes.Loop = isHeld && plot.Dragged is { } dragged ? dragged
            : desk.Transport.Loop is { } loop ? (loop.Start / length, loop.End / length) : null;
        Lanes.Chosen = rows.FindIndex(row => row.Place == desk.Selection.Chain);
        Follow();
        RevealChosen();
        for (int i = 0; i < rows.Count; i++)
        {
            LaneRow row = rows[i];
            double level = row.LevelDbfs(desk);
            row.Hold(level);
            Lanes.SetMeter(i, level, row.HeldDbfs, row.IsHeard);
        }

        plot.IsMoving = true;
        int second = (int)desk.Transport.LengthSeconds;
        if (second != shownSecond)
        {
            // The lanes may have been there before the song was open.
            shownSecond = second;
            shownRevision = -1;
            shown = null;
            Redraw();
        }
    }

    private bool FitsRows()
    {
        int row = 0;
        for (int i = 0; i < desk.Stems.Count; i++)
        {
            StemRow stem = desk.Stems[i];
            if (!IsRow(row++, stem, null))
            {
                return false;
            }

            for (int each = 0; each < stem.Parallels.Count; each++)
            {
                if (!IsRow(row++, stem, stem.Parallels[each]))
                {
                    return false;
                }
            }
        }

        // The song bus is the last.
        return row == rows.Count - 1;
    }

    private bool IsRow(int row, StemRow stem, ParallelRow? parallel) =>
        row < rows.Count && rows[row].Stem == stem && rows[row].Parallel == parallel;

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Ground);
        LaneRuler.Draw(painter, AxisBox with { Y = Bounds.Y, Height = RulerUnits }, desk.Transport, Lanes.Span);
        float pan = Bounds.X + columns.Head - HeadEndUnits;
        float gain = pan - columns.Pan;
        painter.Text(desk.Lanes.IsComputing ? "listening through the song …" : "stems", Box.Between(Bounds.X + 9, Bounds.Y, gain - columns.Gain, Bounds.Y + RulerUnits), Tone.Quiet, Lettering.Small);
        painter.Text("pan", Box.Between(gain, Bounds.Y, pan, Bounds.Y + RulerUnits), Tone.Quiet, Lettering.Small, Side.Right);
        painter.Text("gain", Box.Between(gain - columns.Gain, Bounds.Y, gain, Bounds.Y + RulerUnits), Tone.Quiet, Lettering.Small, Side.Right);
        painter.Text("level", Box.Between(plot.Bounds.Right - Lanes.MeterUnits + 5, Bounds.Y, plot.Bounds.Right, Bounds.Y + RulerUnits), Tone.Quiet, Lettering.Small);
    }

    public override void DrawOver(Painter painter)
    {
        DrawTroubles(painter);
        if (columns.Account <= 0 || desk.Work.ShownAccount is not { } report)
        {
            return;
        }

        bool isOld = desk.Work.IsAccountOld;
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows[i].Account(report) is { } bought && heads[i].Bounds.Width > 0)
            {
                Box box = new(Bounds.Right - columns.Account, heads[i].Bounds.Y, columns.Account - 6, laneUnits - 2);
                string text = $"{(bought >= 0.05 ? "+" : string.Empty)}{FrequencyText.OfDb(bought, "LU")}";
                painter.Text(text, box, isOld ? Tone.Quiet : bought >= 0.05 ? Tone.Good : bought <= -0.05 ? Tone.Reduction : Tone.Quiet, Lettering.Small, Side.Right);
            }
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        if (pointer.X < plot.Bounds.X || pointer.Y > Bounds.Y + RulerUnits)
        {
            return false;
        }

        return plot.Press(pointer);
    }

    public override void Drag(in PointerEvent pointer) => plot.Drag(pointer);

    public override void Release(in PointerEvent pointer) => plot.Release(pointer);

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        columns = LaneColumns.For(Bounds.Width);
        Lanes.MeterUnits = columns.Level;
        plot.Arrange(Box.Between(Bounds.X + columns.Head, Bounds.Y + RulerUnits, Bounds.Right - columns.Account, Bounds.Bottom), ruler);
        account.IsVisible = columns.Account > 0;
        account.Arrange(new(Bounds.Right - columns.Account, Bounds.Y, columns.Account, RulerUnits), ruler);
        // Lanes give way a little before any goes out of sight.
        laneUnits = Math.Clamp(MathF.Floor(plot.Bounds.Height / Math.Max(1, rows.Count)), SmallestLaneUnits, LargestLaneUnits);
        Lanes.LaneUnits = laneUnits;
        ScrollUnits = Math.Clamp(ScrollUnits, 0, Math.Max(0, rows.Count * laneUnits - plot.Bounds.Height));
        Lanes.ScrollUnits = ScrollUnits;
        for (int i = 0; i < heads.Count; i++)
        {
            float y = plot.Bounds.Y + i * laneUnits - ScrollUnits;
            heads[i].Columns = columns;
            // What would cover the ruler is taken out of sight.
            heads[i].Arrange(y < plot.Bounds.Y - laneUnits * 0.6f || y > Bounds.Bottom ? new(Bounds.X, Bounds.Bottom, 0, 0) : new(Bounds.X, y, columns.Head, laneUnits - 2), ruler);
        }
    }

    private void Build()
    {
        heads.ForEach(Remove);
        heads.Clear();
        rows.Clear();
        foreach (StemRow stem in desk.Stems)
        {
            rows.Add(new LaneRow(stem, null));
            rows.AddRange(stem.Parallels.Select(parallel => new LaneRow(stem, parallel)));
        }

        rows.Add(new LaneRow(null, null));
        foreach (LaneRow row in rows)
        {
            heads.Add(Add(new StemHead(desk, row.Parallel is null ? row.Stem : null, row.Parallel)));
        }

        Lanes.Lanes = rows.Count;
        Lanes.LaneUnits = laneUnits;
        Lanes.Span = (0, 1);
        shown = null;
        shownRevision = -1;
        Host?.MarkLayout();
    }

    private void ShowLevels(LaneSet lanes)
    {
        double whole = Math.Max(1, desk.Transport.LengthSeconds / lanes.ColumnSeconds);
        for (int i = 0; i < rows.Count; i++)
        {
            Lane? lane = lanes.Of(rows[i].Place);
            if (lane is null)
            {
                Lanes.Set(i, [], [], [], 1);
                continue;
            }

            Lanes.Set(i, lane.OutputPeakDbfs, lane.OutputRmsDbfs, [.. Enumerable.Range(0, lane.OutputPeakDbfs.Length).Select(lane.ReductionDb)], whole);
        }

        ShowAlone(lanes);
    }

    // Of the correction that is worked on it is to be seen what it does itself.
    private void ShowAlone(LaneSet lanes)
    {
        shownAlone = desk.Selection;
        for (int i = 0; i < rows.Count; i++)
        {
            Lanes.SetAlone(i, desk.Selection.Slot is { } slot && rows[i].Place == desk.Selection.Chain && lanes.Of(rows[i].Place) is { } lane
                ? lane.Reductions.GetValueOrDefault(slot) ?? [] : null);
        }

        Redraw();
    }

    // What plays has refined a few columns: only those are worked out again.
    private void ShowChanged(LaneSet lanes, (int First, int Last) columns)
    {
        for (int i = 0; i < rows.Count; i++)
        {
            if (lanes.Of(rows[i].Place) is { } lane)
            {
                Lanes.Change(i, columns.First, columns.Last, lane.ReductionDb);
            }
        }
    }

    // When the trouble bands of the chosen stem are heard, along the lower edge of its lane.
    private void DrawTroubles(Painter painter)
    {
        int row = rows.FindIndex(each => each.Stem is { } stem && each.Parallel is null && stem == desk.SelectedStem);
        double length = desk.Transport.LengthSeconds;
        if (row < 0 || length <= 0 || heads[row].Bounds.Width <= 0 || desk.Finding.Of(rows[row].Stem!.Index) is not { } report)
        {
            return;
        }

        (double from, double to) = Lanes.Span;
        float width = AxisBox.Width;
        foreach (TroubleFinding finding in desk.Finding.Shown is { } shownFinding && report.Findings.Contains(shownFinding) ? [shownFinding] : report.Findings)
        {
            foreach (TimeRange range in finding.Ranges)
            {
                float left = Math.Max(0, (float)((range.StartSeconds / length - from) / (to - from)) * width);
                float right = Math.Min(width, (float)((range.EndSeconds / length - from) / (to - from)) * width);
                if (right > left)
                {
                    painter.Fill(new(plot.Bounds.X + left, heads[row].Bounds.Bottom - 4, Math.Max(1.5f, right - left), 3), Tone.Trouble);
                }
            }
        }
    }

    // A lane that is newly chosen, or that the keyboard has come to, is brought into sight.
    private void RevealChosen()
    {
        if (plot.Bounds.Height <= 0)
        {
            return;
        }

        (Control? focus, int? chosen) = revealed;
        revealed = (Host?.Focus, Lanes.Chosen);
        if (revealed.Focus is { } now && now != focus && RowOf(now) is >= 0 and var row)
        {
            Reveal(row);
        }
        else if (chosen is not null && Lanes.Chosen != chosen && Lanes.Chosen >= 0)
        {
            Reveal(Lanes.Chosen);
        }
    }

    private int RowOf(Control control) => heads.FindIndex(control.IsInside);

    private void Reveal(int row)
    {
        float top = row * laneUnits - ScrollUnits;
        _ = ScrollBy(top < 0 ? top : Math.Max(0, top + laneUnits - plot.Bounds.Height));
    }

    // While it plays, the place is kept in sight.
    private void Follow()
    {
        (double from, double to) = Lanes.Span;
        if (desk.Transport.IsPlaying && to - from < 1 && Lanes.Now > to && Lanes.Now - to < (to - from))
        {
            double length = to - from;
            double start = Math.Min(Lanes.Now, 1 - length);
            Lanes.Span = (start, start + length);
            Redraw();
        }
    }
}
