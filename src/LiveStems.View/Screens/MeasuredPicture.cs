using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>A small picture of what the probe measured: a name, a field with a scale in dB, and what is drawn in it.</summary>
internal abstract class MeasuredPicture(AlbumDesk desk) : Control
{
    private const float NameUnits = 16;
    private const float NumberUnits = 14;
    private const float ScaleUnits = 42;

    private long shown = -1;

    /// <summary>What it is called, of what was measured.</summary>
    protected abstract string NameOf(MeasuredProcessor known);

    /// <summary>From where to where its scale goes, and the distance of its lines, in dB.</summary>
    protected abstract (double LowDb, double HighDb, double StepDb) ScaleOf(MeasuredProcessor known);

    /// <summary>Draws what was measured into the field, and the axis below it.</summary>
    protected abstract void DrawIn(Painter painter, MeasuredProcessor known, in Field field);

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
        (double low, double high, double step) = ScaleOf(known);
        Field field = new(Box.Between(Bounds.X + 7, Bounds.Y + NameUnits + 2, Bounds.Right - ScaleUnits, Bounds.Bottom - NumberUnits), low, high);
        DrawScale(painter, field, step);
        DrawIn(painter, known, field);
    }

    /// <summary>Writes a number below the field.</summary>
    /// <param name="painter">Draws.</param>
    /// <param name="field">The field.</param>
    /// <param name="place">Where its middle stands along the axis, 0 to 1.</param>
    /// <param name="number">The number.</param>
    protected static void Number(Painter painter, in Field field, double place, string number) =>
        painter.Text(number, new(field.X(place) - 20, field.Box.Bottom, 40, NumberUnits), Tone.Quiet, Lettering.Small, Side.Centre);

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

    private static void DrawScale(Painter painter, in Field field, double step)
    {
        for (double gain = Math.Ceiling(field.LowDb / step) * step; gain <= field.HighDb; gain += step)
        {
            float y = field.Y(gain);
            painter.Line(field.Box.X, y, field.Box.Right, y, gain == 0 ? Tone.Edge : Tone.Grid);
            painter.Text(FrequencyText.OfDb(gain, gain == 0 ? "dB" : string.Empty, 0).Trim(), new(field.Box.Right + 2, y - 7, ScaleUnits - 5, 14), Tone.Quiet, Lettering.Small, Side.Right);
        }
    }

    /// <summary>Where it is drawn, and what the edges of that stand for.</summary>
    protected readonly record struct Field(Box Box, double LowDb, double HighDb)
    {
        public float X(double place) => Box.X + Box.Width * (float)Math.Clamp(place, 0, 1);

        public float Y(double gainDb) => Box.Bottom - Box.Height * (float)Math.Clamp((gainDb - LowDb) / (HighDb - LowDb), 0, 1);
    }
}
