using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>A small picture of gains over an axis, as the probe measured them.</summary>
internal abstract class GainPicture(AlbumDesk desk) : Control
{
    private const float NameUnits = 16;
    private const float NumberUnits = 14;
    private const float ScaleUnits = 42;
    private const double LeastDb = 3;
    private const double DeepestDb = -48;

    private static readonly double[] Steps = [3, 6, 12, 24];

    private long shown = -1;

    /// <summary>What it is called, of what was measured.</summary>
    protected abstract string NameOf(MeasuredProcessor known);

    /// <summary>All gains in dB that are to be seen.</summary>
    protected abstract IEnumerable<double> GainsDb(MeasuredProcessor known);

    /// <summary>Draws the axis below a field and the curves in it.</summary>
    protected abstract void DrawCurves(Painter painter, MeasuredProcessor known, in Field field);

    /// <summary>Takes in what is new.</summary>
    public void Update()
    {
        if (shown != desk.Probed.Revision)
        {
            shown = desk.Probed.Revision;
            Redraw();
        }
    }

    public override void Draw(Painter painter)
    {
        painter.Fill(Bounds, Tone.Well);
        painter.Frame(Bounds, Tone.Edge, 1, 2, 0.6f);
        Box name = new(Bounds.X + 7, Bounds.Y + 1, Bounds.Width - 14, NameUnits);
        if (desk.Probed.Known is not { } known)
        {
            bool isWell = desk.Probed.Fault.Length == 0;
            painter.Text(isWell ? "being measured …" : "could not be measured:", name, Tone.Quiet, Lettering.Small);
            DrawFault(painter, name);
            return;
        }

        painter.Text(NameOf(known), name, Tone.Quiet, Lettering.Small);
        Field field = FieldOf(known);
        DrawScale(painter, field);
        DrawCurves(painter, known, field);
    }

    /// <summary>Draws a curve through points by their place along the axis, 0 to 1, and their gain in dB.</summary>
    protected static void Curve(Painter painter, in Field field, IEnumerable<(double Place, double GainDb)> points, Tone tone)
    {
        (float X, float Y)? before = null;
        foreach ((double place, double gainDb) in points)
        {
            (float X, float Y) at = (field.X(place), field.Y(gainDb));
            if (before is { } from)
            {
                painter.Line(from.X, from.Y, at.X, at.Y, tone, 1.5f);
            }

            before = at;
        }
    }

    /// <summary>Writes a number below the field and draws the line that it stands for.</summary>
    protected static void Mark(Painter painter, in Field field, double place, string number)
    {
        float x = field.X(place);
        painter.Line(x, field.Box.Y, x, field.Box.Bottom, Tone.Grid);
        painter.Text(number, new(x - 20, field.Box.Bottom, 40, NumberUnits), Tone.Quiet, Lettering.Small, Side.Centre);
    }

    private void DrawFault(Painter painter, in Box name)
    {
        float y = name.Bottom + 2;
        foreach (string line in desk.Probed.Fault.Length == 0 ? [] : TipBubble.Lines(painter.Fonts, desk.Probed.Fault, name.Width, Lettering.Small))
        {
            if (y + NumberUnits > Bounds.Bottom)
            {
                break;
            }

            painter.Text(line, name with { Y = y, Height = NumberUnits }, Tone.Text, Lettering.Small);
            y += NumberUnits;
        }
    }

    // As far up and down as the gains go, and 3 dB at least.
    private Field FieldOf(MeasuredProcessor known)
    {
        double[] gains = [.. GainsDb(known).Where(double.IsFinite)];
        double high = Math.Max(LeastDb, Math.Ceiling(gains.DefaultIfEmpty(0).Max() / LeastDb) * LeastDb);
        double low = Math.Max(DeepestDb, Math.Min(-LeastDb, Math.Floor(gains.DefaultIfEmpty(0).Min() / LeastDb) * LeastDb));
        Box box = Box.Between(Bounds.X + 7, Bounds.Y + NameUnits + 2, Bounds.Right - ScaleUnits, Bounds.Bottom - NumberUnits);
        return new(box, low, high);
    }

    private static void DrawScale(Painter painter, in Field field)
    {
        double range = field.HighDb - field.LowDb;
        double step = Steps.FirstOrDefault(each => range / each <= 4, Steps[^1]);
        for (double gain = Math.Ceiling(field.LowDb / step) * step; gain <= field.HighDb; gain += step)
        {
            float y = field.Y(gain);
            painter.Line(field.Box.X, y, field.Box.Right, y, gain == 0 ? Tone.Edge : Tone.Grid);
            painter.Text(FrequencyText.OfDb(gain, gain == 0 ? "dB" : string.Empty, 0).Trim(), new(field.Box.Right + 2, y - 7, ScaleUnits - 5, 14), Tone.Quiet, Lettering.Small, Side.Right);
        }
    }

    /// <summary>Where curves are drawn, and what its edges stand for.</summary>
    protected readonly record struct Field(Box Box, double LowDb, double HighDb)
    {
        public float X(double place) => Box.X + Box.Width * (float)Math.Clamp(place, 0, 1);

        public float Y(double gainDb) => Box.Bottom - Box.Height * (float)Math.Clamp((gainDb - LowDb) / (HighDb - LowDb), 0, 1);
    }
}
