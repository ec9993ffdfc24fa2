using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The harmonics that the chosen processor adds to a tone of 1 kHz, as the probe measured them.</summary>
internal sealed class HarmonicsControl(AlbumDesk desk) : MeasuredPicture(desk)
{
    private const double FloorDb = -100;
    private const double MarkDb = 25;
    private const float Gap = 3;

    protected override string NameOf(MeasuredProcessor known) =>
        known.HarmonicsAtDbfs is { } level ? $"harmonics of 1 kHz at {FrequencyText.OfDb(level, "dBFS", 0)}" : "harmonics of 1 kHz";

    protected override (double LowDb, double HighDb, double StepDb) ScaleOf(MeasuredProcessor known) => (FloorDb, 0, MarkDb);

    protected override void DrawIn(Painter painter, MeasuredProcessor known, in Field field)
    {
        IReadOnlyList<double> harmonics = known.HarmonicsDb;
        double each = 1.0 / Math.Max(1, harmonics.Count);
        for (int i = 0; i < harmonics.Count; i++)
        {
            painter.Fill(Box.Between(field.X(i * each) + Gap, field.Y(harmonics[i]), field.X((i + 1) * each) - Gap, field.Box.Bottom), Tone.Output);
            Number(painter, field, (i + 0.5) * each, $"{i + 2}");
        }
    }
}
