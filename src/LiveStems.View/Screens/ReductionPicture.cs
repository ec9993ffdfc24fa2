using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Plots;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>The gain reduction of the chosen processor as it went by.</summary>
internal sealed class ReductionPicture(AlbumDesk desk) : PlotControl
{
    private const int Columns = 360;
    private const double ColumnsPerSecond = 60;

    private readonly ReductionHistoryPlot history = new(Columns);
    private ProcessorModel? processor;
    private readonly ColumnPace pace = new(ColumnsPerSecond, Columns);

    public override IPlot Plot => history;

    /// <summary>Shows a processor; what was seen of another is forgotten.</summary>
    public void Show(ProcessorModel? shown)
    {
        if (!ReferenceEquals(shown, processor))
        {
            processor = shown;
            history.Clear();
            pace.Clear();
        }
    }

    public void Update(double seconds)
    {
        IsMoving = IsVisible && desk.Transport.IsPlaying && seconds > 0;
        if (IsMoving && processor is not null)
        {
            // However often pictures come, the axis stays 6 s long.
            (int columns, double deepestDb) = pace.Take(processor.LatestReductionDb, seconds);
            for (; columns > 0; columns--)
            {
                history.Add(deepestDb);
            }
        }
    }

    public override void Draw(Painter painter)
    {
        base.Draw(painter);
        painter.Frame(Bounds, Tone.Edge, 1, 2, 0.6f);
        Write(painter, "gain reduction, last 6 s", Bounds.X + 4, Bounds.Bottom - 17);
        Write(painter, "−3", Bounds.Right - 40, Bounds.Y + Bounds.Height / 4 - 7);
        Write(painter, "−6 dB", Bounds.Right - 40, Bounds.Y + Bounds.Height / 2 - 7);
    }

    // Words stand on a ground of their own, so that the curve does not cross them.
    private static void Write(Painter painter, string words, float x, float y)
    {
        Box box = new(x, y, painter.Fonts.Width(words, Lettering.Small) + 6, 14);
        painter.Fill(box, Tone.Well, 0.8f, 2);
        painter.Text(words, box.Inset(3, 0), Tone.Text, Lettering.Small);
    }
}
