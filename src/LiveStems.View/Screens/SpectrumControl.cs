using LiveStems.Engine.Monitor;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Plots;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>
/// The large spectrum. Press and drag on it to hear a band alone; corrections stand on it as brackets that can be taken by
/// their edges and their top.
/// </summary>
internal sealed class SpectrumControl : PlotControl
{
    private const float DragStart = 5;
    private const float GrabUnits = 6;
    private const double WidthPerNotch = 1.15;
    private const double ReadoutSeconds = 0.1;

    private readonly AlbumDesk desk;
    private readonly SpectrumPlot plot;
    private readonly float[] tilted;
    private readonly CorrectionBrackets brackets;
    private readonly SpectrumFindings findings;
    private Grab grab;
    private double pressedHz;
    private float pressedX;
    private double grabOffset;
    private long shownFrame = -1;
    private (bool Peaks, bool LongTerm, bool Spread, double Tilt) shownCurves;
    private string readout = string.Empty;
    private double sinceReadout;

    public SpectrumControl(AlbumDesk desk)
    {
        this.desk = desk;
        Tip = "Press and drag to hear a band alone; drag it by its middle or an edge, the wheel makes it wider, the right button ends it. Corrections are moved by their edges and tops.";
        brackets = new CorrectionBrackets(desk);
        findings = new SpectrumFindings(desk);
        plot = new SpectrumPlot(SpectrumModel.Points) { Span = PointSpan };
        tilted = new float[SpectrumModel.Points];
    }

    private enum Grab
    {
        None,
        New,
        Whole,
        Lower,
        Upper,
        Correction,
    }

    public static LogFrequencyAxis Axis => LogFrequencyAxis.Audible;

    /// <summary>The part of the points between the ends of the axis, from 0 to 1; a little beyond where the axis is longer.</summary>
    public static (double From, double To) PointSpan
    {
        get
        {
            double lowest = SpectrumModel.Frequencies[0];
            double whole = Math.Log(SpectrumModel.Frequencies[^1] / lowest);
            return (Math.Log(Axis.LowestHz / lowest) / whole, Math.Log(Axis.HighestHz / lowest) / whole);
        }
    }

    public override IPlot Plot => plot;

    public override PointerShape PointerShape => brackets.Pointer ?? PointerShape.Cross;

    public bool ShowsPeaks { get; set; } = true;

    public bool ShowsLongTerm { get; set; } = true;

    public bool ShowsSpread { get; set; }

    /// <summary>Level of pink noise at the upper edge of the plot, and decibels from there to the lower edge.</summary>
    public (double Bottom, double Top) RangeDb { get; set; } = (-90, -10);

    /// <summary>Takes in the newest picture.</summary>
    public void Update(double seconds)
    {
        SpectrumFrame frame = desk.Spectrum.Frame;
        IsMoving = frame.Number != shownFrame;
        shownFrame = frame.Number;
        bool isOther = shownCurves != (ShowsPeaks, ShowsLongTerm, ShowsSpread, desk.Spectrum.TiltDbPerOctave);
        shownCurves = (ShowsPeaks, ShowsLongTerm, ShowsSpread, desk.Spectrum.TiltDbPerOctave);
        if (IsMoving || isOther)
        {
            Put(SpectrumCurve.Output, frame.Output.Live);
            Put(SpectrumCurve.Input, frame.Input.Live);
            Show(SpectrumCurve.Peak, frame.Output.Peak, ShowsPeaks);
            Show(SpectrumCurve.LongTerm, frame.Output.LongTerm, ShowsLongTerm);
            Show(SpectrumCurve.Low, frame.Output.Low, ShowsSpread);
            Show(SpectrumCurve.High, frame.Output.High, ShowsSpread);
            plot.Set(SpectrumCurve.Gain, desk.Spectrum.ReductionDb);
        }

        if (findings.Update() | isOther)
        {
            if (findings.ShowsCovering && desk.Finding.CoveringDb is { Count: > 0 } covering)
            {
                Put(SpectrumCurve.Other, [.. covering]);
            }
            else
            {
                plot.Set(SpectrumCurve.Other, []);
            }

            Redraw();
        }

        brackets.Update(this);
        plot.RangeDb = RangeDb;
        plot.GainShareOfDb = CorrectionBrackets.ShareOfDb;
        plot.GainZeroShare = CorrectionBrackets.ZeroShare;
        MonitorSettings monitor = desk.Monitor.Settings;
        (double low, double high) = desk.Monitor.Band;
        (double, double)? band = monitor.BandListen ? (Axis.ToPosition(low), Axis.ToPosition(high)) : null;
        if (plot.Band != band)
        {
            plot.Band = band;
            Redraw();
        }

        sinceReadout += seconds;
        if (sinceReadout > ReadoutSeconds)
        {
            sinceReadout = 0;
            UpdateReadout();
        }
    }

    public override void Draw(Painter painter)
    {
        base.Draw(painter);
        foreach (double mark in Axis.Marks())
        {
            float x = X(mark);
            bool isDecade = Math.Abs(Math.Log10(mark) - Math.Round(Math.Log10(mark))) < 1e-6;
            painter.Line(x, Bounds.Y, x, Bounds.Bottom, Tone.Grid, 1, isDecade ? 1 : 0.6f);
        }

    }

    public override void DrawOver(Painter painter)
    {
        painter.Canvas.Save();
        painter.Canvas.ClipRect(Bounds.ToSkia());
        findings.Draw(painter, this);
        brackets.Draw(painter, this);
        DrawBand(painter);
        painter.Canvas.Restore();
        painter.Text(readout, ReadoutBox, Tone.Text, Lettering.Small);
    }

    public float X(double hertz) => Bounds.X + (float)Axis.ToPosition(hertz) * Bounds.Width;

    public double Hertz(float x) => Axis.ToFrequency(Math.Clamp((x - Bounds.X) / Math.Max(1, Bounds.Width), 0, 1));

    public float Y(double level) => Bounds.Y + (float)((RangeDb.Top - level) / (RangeDb.Top - RangeDb.Bottom)) * Bounds.Height;

    public override bool Press(in PointerEvent pointer)
    {
        if (pointer.Button == PointerButton.Right)
        {
            desk.Monitor.Change(settings => settings with { BandListen = false });
            return false;
        }

        pressedX = pointer.X;
        pressedHz = Hertz(pointer.X);
        grab = GrabAt(pointer.X, pointer.Y);
        if (grab == Grab.Correction)
        {
            brackets.Press(this, pointer);
        }
        else if (grab == Grab.Whole)
        {
            grabOffset = Math.Log2(desk.Monitor.Settings.BandCentreHz / pressedHz);
        }
        else if (grab == Grab.New)
        {
            desk.Monitor.ListenTo(pressedHz);
        }

        return true;
    }

    public override void Drag(in PointerEvent pointer)
    {
        double at = Hertz(pointer.X);
        (double low, double high) = desk.Monitor.Band;
        switch (grab)
        {
            case Grab.Correction:
                brackets.Drag(this, pointer);
                break;
            case Grab.Whole:
                desk.Monitor.ListenTo(at * Math.Pow(2, grabOffset));
                break;
            case Grab.Lower:
                desk.Monitor.ListenBetween(at, high);
                break;
            case Grab.Upper:
                desk.Monitor.ListenBetween(low, at);
                break;
            case Grab.New when Math.Abs(pointer.X - pressedX) >= DragStart:
                desk.Monitor.ListenBetween(pressedHz, at);
                break;
        }
    }

    public override void Release(in PointerEvent pointer)
    {
        if (grab == Grab.Correction)
        {
            desk.EndGesture();
        }

        grab = Grab.None;
    }

    public override void Hover(in PointerEvent pointer)
    {
        if (brackets.Hover(this, pointer))
        {
            Redraw();
        }

        UpdateReadout();
    }

    public override bool Wheel(in PointerEvent pointer, float notches)
    {
        if (brackets.Wheel(this, pointer, notches))
        {
            return true;
        }

        desk.Monitor.WidenBand(Math.Pow(WidthPerNotch, notches));
        return true;
    }

    private Box ReadoutBox => new(Bounds.X + 8, Bounds.Bottom - 20, Math.Min(420, Bounds.Width - 16), 16);

    private Grab GrabAt(float x, float y)
    {
        if (brackets.Find(this, x, y))
        {
            return Grab.Correction;
        }

        if (!desk.Monitor.BandListen)
        {
            return Grab.New;
        }

        (double low, double high) = desk.Monitor.Band;
        return Math.Abs(x - X(low)) < GrabUnits ? Grab.Lower
            : Math.Abs(x - X(high)) < GrabUnits ? Grab.Upper
            : x > X(low) && x < X(high) ? Grab.Whole
            : Grab.New;
    }

    private void DrawBand(Painter painter)
    {
        if (!desk.Monitor.BandListen)
        {
            return;
        }

        (double low, double high) = desk.Monitor.Band;
        MonitorSettings settings = desk.Monitor.Settings;
        float left = X(low);
        float right = X(high);
        float top = Bounds.Y + 7;
        painter.Line(left, top, left, Bounds.Bottom, Tone.Listen, 2);
        painter.Line(right, top, right, Bounds.Bottom, Tone.Listen, 2);
        painter.Line(left - 1, top, right + 1, top, Tone.Listen, 2);
        string words = $"{FrequencyText.Of(settings.BandCentreHz)} · {FrequencyText.OfOctaves(settings.BandWidthOctaves)} · {NoteName.Of(settings.BandCentreHz)} · {settings.BandSlopeDbPerOctave} dB/oct";
        float width = painter.Fonts.Width(words, Lettering.Strong) + 14;
        float x = Math.Clamp((left + right - width) / 2, Bounds.X + 2, Math.Max(Bounds.X + 2, Bounds.Right - width - 2));
        Box label = new(x, top + 4, width, 19);
        painter.Fill(label, Tone.Listen, radius: 3);
        painter.Text(words, label, Tone.OnChosen, Lettering.Strong, Side.Centre);
    }

    private void UpdateReadout()
    {
        string now = string.Empty;
        if (Host is { } host && host.Hovered == this)
        {
            double hertz = Hertz(host.Pointer.X);
            int point = SpectrumModel.PointOf(hertz);
            now = $"{FrequencyText.Of(hertz)}   {NoteName.Of(hertz)}   out {FrequencyText.OfDb(desk.Spectrum.Frame.Output.Live[point])}   in {FrequencyText.OfDb(desk.Spectrum.Frame.Input.Live[point])}";
        }

        if (now != readout)
        {
            readout = now;
            Host?.MarkDirty(ReadoutBox);
        }
    }

    private void Show(SpectrumCurve curve, float[] levels, bool isShown)
    {
        if (isShown)
        {
            Put(curve, levels);
        }
        else
        {
            plot.Set(curve, []);
        }
    }

    private void Put(SpectrumCurve curve, float[] levels)
    {
        float slope = (float)(desk.Spectrum.Tilted(0, 1) - desk.Spectrum.Tilted(0, 0));
        float start = (float)desk.Spectrum.Tilted(0, 0);
        for (int i = 0; i < levels.Length; i++)
        {
            tilted[i] = levels[i] + start + slope * i;
        }

        plot.Set(curve, tilted);
    }
}
