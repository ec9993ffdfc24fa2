using LiveStems.Dsp.Filters;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The corrections of the chain on the spectrum: drawn as brackets, taken by edges, top or middle.</summary>
internal sealed class CorrectionBrackets(AlbumDesk desk)
{
    /// <summary>Share of the plot's height that a decibel of correction takes.</summary>
    public const double ShareOfDb = 1.0 / 64;

    /// <summary>Where 0 dB of correction stands, as a share of the height from above.</summary>
    public const double ZeroShare = 0.22;

    private const float GrabUnits = 6;
    private const float StubUnits = 7;
    private const float ResponseStep = 3;
    private const double DeepestShownDb = -60;

    private const double LeastActionDb = 0.1;

    private readonly Dictionary<(string Id, string Prefix), double> shownActions = [];
    private (string Id, string Prefix)? chosen;
    private CorrectionBracket[] all = [];
    private (long Revision, bool ShowsSong) listed = (-1, false);
    private Part part;
    private double grabOffset;

    private enum Part
    {
        None,
        Middle,
        Top,
        Lower,
        Upper,
    }

    /// <summary>The look of the pointer over what would be taken, or null.</summary>
    public PointerShape? Pointer { get; private set; }

    public void Draw(Painter painter, SpectrumControl plot)
    {
        float zero = ZeroOf(plot);
        painter.Line(plot.Bounds.X, zero, plot.Bounds.Right, zero, Tone.Edge, 1, 0.8f);
        DrawResponse(painter, plot, zero);
        foreach (CorrectionBracket bracket in All())
        {
            bool isChosen = chosen == (bracket.Processor.Id, bracket.Prefix);
            bool isSelected = bracket.Processor.IsSelected;
            Tone tone = bracket.IsUpward ? Tone.Good : Tone.Reduction;
            float alpha = isChosen ? 1 : isSelected ? 0.85f : 0.5f;
            float left = Math.Max(plot.X(bracket.LowerHz), plot.Bounds.X);
            float right = Math.Min(plot.X(bracket.UpperHz), plot.Bounds.Right);
            float foot = HeightOf(plot, bracket.FootDb);
            float top = TopOf(plot, bracket);
            float width = isChosen ? 2.2f : 1.6f;
            if (isChosen || isSelected)
            {
                painter.Fill(Box.Between(left, Math.Min(top, foot), right, Math.Max(top, foot)), tone, isChosen ? 0.16f : 0.08f);
            }

            DrawEdge(painter, left, foot, top, tone, width, alpha);
            DrawEdge(painter, right, foot, top, tone, width, alpha);
            painter.Line(left, top, right, top, tone, width, alpha);
            if (bracket.FootDb != 0)
            {
                painter.Line(left, foot, right, foot, tone, 1, alpha);
            }

            DrawAction(painter, plot, bracket, left, right, tone);
            float label = bracket.IsUpward ? top - 14 : top + 2;
            painter.Text(bracket.Name, new((left + right) / 2 - 70, label, 140, 13), tone, Lettering.Small, Side.Centre);
        }
    }

    /// <summary>Has the brackets drawn again whose present action has moved as far as can be seen.</summary>
    public void Update(SpectrumControl plot)
    {
        float unit = (float)ShareOfDb * plot.Bounds.Height;
        foreach (CorrectionBracket bracket in All())
        {
            if (bracket.ActionDb?.Invoke() is not { } now)
            {
                continue;
            }

            (string, string) key = (bracket.Processor.Id, bracket.Prefix);
            double before = shownActions.GetValueOrDefault(key);
            if (Math.Abs(now - before) * unit < 0.5)
            {
                continue;
            }

            shownActions[key] = now;
            float first = HeightOf(plot, bracket.FootDb + Math.Max(0, Math.Max(now, before)));
            float last = HeightOf(plot, bracket.FootDb + Math.Min(0, Math.Min(now, before)));
            Box moved = Box.Between(plot.X(bracket.LowerHz) - 2, first - 3, plot.X(bracket.UpperHz) + 2, last + 3);
            plot.Host?.MarkDirty(moved.Common(plot.Bounds));
        }
    }

    public bool Find(SpectrumControl plot, float x, float y) => Locate(plot, x, y).Part != Part.None;

    /// <summary>True when what is marked is another.</summary>
    public bool Hover(SpectrumControl plot, in PointerEvent pointer)
    {
        (CorrectionBracket? bracket, Part found) = Locate(plot, pointer.X, pointer.Y);
        (string, string)? now = bracket is null ? null : (bracket.Processor.Id, bracket.Prefix);
        Pointer = found switch
        {
            Part.Top => PointerShape.UpDown,
            Part.Lower or Part.Upper => PointerShape.LeftRight,
            Part.Middle => PointerShape.Hand,
            _ => null,
        };
        bool isOther = now != chosen;
        chosen = now;
        return isOther;
    }

    public void Press(SpectrumControl plot, in PointerEvent pointer)
    {
        (CorrectionBracket? bracket, part) = Locate(plot, pointer.X, pointer.Y);
        if (bracket is null)
        {
            return;
        }

        chosen = (bracket.Processor.Id, bracket.Prefix);
        bracket.Processor.Select();
        grabOffset = bracket.Centre is { } centre ? Math.Log2(centre.Value / plot.Hertz(pointer.X)) : 0;
    }

    public void Drag(SpectrumControl plot, in PointerEvent pointer)
    {
        if (Chosen() is not { } bracket)
        {
            return;
        }

        double hertz = plot.Hertz(pointer.X);
        switch (part)
        {
            case Part.Top or Part.Middle:
                if (part == Part.Middle && bracket.Centre is { } centre)
                {
                    Set(bracket, centre, hertz * Math.Pow(2, grabOffset));
                }

                if (part == Part.Top && bracket.Height is { } height)
                {
                    double level = (ZeroOf(plot) - pointer.Y) / plot.Bounds.Height / ShareOfDb;
                    Set(bracket, height, Math.Round(bracket.HeightFor(level), 1));
                }

                break;
            case Part.Lower when bracket.Lower is { } lower:
                Set(bracket, lower, hertz);
                break;
            case Part.Upper when bracket.Upper is { } upper:
                Set(bracket, upper, hertz);
                break;
            case Part.Lower or Part.Upper when bracket is { Q: { } q, Centre: { } middle }:
                double octaves = 2 * Math.Abs(Math.Log2(hertz / middle.Value));
                Set(bracket, q, CorrectionBracket.QOfOctaves(Math.Clamp(octaves, 0.03, 8)));
                break;
        }
    }

    /// <summary>The wheel over a bracket makes it narrower or wider.</summary>
    public bool Wheel(SpectrumControl plot, in PointerEvent pointer, float notches)
    {
        if (Locate(plot, pointer.X, pointer.Y).Bracket is not { Q: { } q })
        {
            return false;
        }

        q.Set(q.Value * Math.Pow(1.08, -notches), q.Id);
        return true;
    }

    private void DrawResponse(Painter painter, SpectrumControl plot, float zero)
    {
        foreach (ProcessorModel processor in desk.Spectrum.ShowsSong ? [] : desk.Chain.Processors)
        {
            FilterSettings[] bands = processor.IsBypassed ? [] : [.. EqualiserBands.Of(processor)];
            if (bands.Length == 0)
            {
                continue;
            }

            float before = float.NaN;
            for (float x = plot.Bounds.X; x <= plot.Bounds.Right + ResponseStep; x += ResponseStep)
            {
                double hertz = plot.Hertz(x);
                double gain = 0;
                foreach (FilterSettings band in bands)
                {
                    gain += AnaloguePrototype.GainDb(band, hertz);
                }

                float y = zero - (float)(Math.Max(gain, DeepestShownDb) * ShareOfDb) * plot.Bounds.Height;
                if (!float.IsNaN(before))
                {
                    painter.Line(x - ResponseStep, before, x, y, Tone.Text, 1.3f, processor.IsSelected ? 0.85f : 0.4f);
                }

                before = y;
            }
        }
    }

    private static void Set(CorrectionBracket bracket, ValueField target, double value) => target.Set(target.Spec.Clamp(value), $"bracket {bracket.Processor.Id}{target.Id}");

    private static void DrawAction(Painter painter, SpectrumControl plot, CorrectionBracket bracket, float left, float right, Tone tone)
    {
        if (bracket.ActionDb?.Invoke() is not { } action || Math.Abs(action) < LeastActionDb)
        {
            return;
        }

        float foot = HeightOf(plot, bracket.FootDb);
        float now = HeightOf(plot, bracket.FootDb + action);
        painter.Fill(Box.Between(left, Math.Min(foot, now), right, Math.Max(foot, now)), tone, 0.22f);
        painter.Line(left, now, right, now, tone, 3, 0.9f);
    }

    private static float HeightOf(SpectrumControl plot, double decibels) => ZeroOf(plot) - (float)(decibels * ShareOfDb) * plot.Bounds.Height;

    private static float ZeroOf(SpectrumControl plot) => plot.Bounds.Y + (float)ZeroShare * plot.Bounds.Height;

    private static float TopOf(SpectrumControl plot, CorrectionBracket bracket)
    {
        // A bracket of no gain keeps a height that can be seen and taken.
        float height = (float)((bracket.TopDb - bracket.FootDb) * ShareOfDb) * plot.Bounds.Height;
        return HeightOf(plot, bracket.FootDb) - (Math.Abs(height) < StubUnits ? (height < 0 ? -StubUnits : StubUnits) : height);
    }

    private static void DrawEdge(Painter painter, float x, float foot, float top, Tone tone, float width, float alpha) =>
        painter.Line(x, foot, x, top, tone, width, alpha);

    // Made anew only when the album or what is chosen is another: they are looked at with every picture.
    private CorrectionBracket[] All()
    {
        (long, bool) now = (desk.Revision, desk.Spectrum.ShowsSong);
        if (listed != now)
        {
            listed = now;
            all = desk.Spectrum.ShowsSong ? [] : [.. desk.Chain.Processors.SelectMany(CorrectionBracket.Of)];
        }

        return all;
    }

    private CorrectionBracket? Chosen() => All().FirstOrDefault(each => chosen == (each.Processor.Id, each.Prefix));

    private (CorrectionBracket? Bracket, Part Part) Locate(SpectrumControl plot, float x, float y)
    {
        foreach (CorrectionBracket bracket in All().OrderBy(each => each.Processor.IsSelected ? 0 : 1).ThenBy(each => each.UpperHz / each.LowerHz))
        {
            float left = plot.X(bracket.LowerHz);
            float right = plot.X(bracket.UpperHz);
            float foot = HeightOf(plot, bracket.FootDb);
            float top = TopOf(plot, bracket);
            if (x < left - GrabUnits || x > right + GrabUnits || y < Math.Min(top, foot) - GrabUnits || y > Math.Max(top, foot) + GrabUnits)
            {
                continue;
            }

            bool canMoveEdges = bracket.Q is not null;
            float edge = Math.Min(GrabUnits, (right - left) / 4 + 2);
            Part found = Math.Abs(x - left) < edge && (canMoveEdges || bracket.Lower is not null) ? Part.Lower
                : Math.Abs(x - right) < edge && (canMoveEdges || bracket.Upper is not null) ? Part.Upper
                : Math.Abs(y - top) < GrabUnits && bracket.Height is not null ? Part.Top
                : bracket.Centre is not null && (canMoveEdges || bracket.Height is null) ? Part.Middle
                : bracket.Height is not null ? Part.Top : Part.None;
            if (found != Part.None)
            {
                return (bracket, found);
            }
        }

        return (null, Part.None);
    }
}
