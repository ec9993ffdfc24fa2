using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The harmonics that the chosen processor adds to a tone of 1 kHz, as the probe measured them.</summary>
internal sealed class HarmonicsControl(AlbumDesk desk) : Control
{
    private const double FloorDb = -100;
    private const double MarkDb = 25;
    private const float NameUnits = 16;
    private const float NumberUnits = 14;
    private const float ScaleUnits = 42;

    private long shown = -1;

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
        IReadOnlyList<double> harmonics = desk.Probed.Known?.HarmonicsDb ?? [];
        string name = desk.Probed.Known?.HarmonicsAtDbfs is { } level ? $"harmonics of 1 kHz at {FrequencyText.OfDb(level, "dBFS", 0)}" : "harmonics of 1 kHz";
        painter.Text(name, new(Bounds.X + 7, Bounds.Y + 1, Bounds.Width - 14, NameUnits), Tone.Quiet, Lettering.Small);
        Box field = Box.Between(Bounds.X + 7, Bounds.Y + NameUnits + 2, Bounds.Right - ScaleUnits, Bounds.Bottom - NumberUnits);
        for (double mark = -MarkDb; mark > FloorDb; mark -= MarkDb)
        {
            float y = Y(field, mark);
            painter.Line(field.X, y, field.Right, y, Tone.Grid);
            painter.Text(FrequencyText.OfDb(mark, mark == -MarkDb ? "dB" : string.Empty, 0).Trim(), new(field.Right + 2, y - 7, ScaleUnits - 5, 14), Tone.Quiet, Lettering.Small, Side.Right);
        }

        float each = field.Width / Math.Max(1, harmonics.Count);
        for (int i = 0; i < harmonics.Count; i++)
        {
            float top = Y(field, harmonics[i]);
            painter.Fill(Box.Between(field.X + i * each + 3, top, field.X + (i + 1) * each - 3, field.Bottom), Tone.Output);
            painter.Text($"{i + 2}", new(field.X + i * each, field.Bottom, each, NumberUnits), Tone.Quiet, Lettering.Small, Side.Centre);
        }
    }

    private static float Y(in Box field, double level) => field.Bottom - field.Height * (float)Math.Clamp(1 - level / FloorDb, 0, 1);
}
