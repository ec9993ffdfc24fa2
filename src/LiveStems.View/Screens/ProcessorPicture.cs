using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Plots;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>What the chosen processor does, as it does it: its gain reduction as it went by.</summary>
internal sealed class ProcessorPicture(AlbumDesk desk) : PlotControl
{
    private const int Columns = 360;

    private readonly ReductionHistoryPlot history = new(Columns);
    private ProcessorModel? processor;

    public override IPlot Plot => history;

    public void Show(ProcessorModel? shown)
    {
        if (!ReferenceEquals(shown, processor))
        {
            processor = shown;
            history.Clear();
        }

        IsVisible = shown is not null && Reduces(shown.Slot.Processor);
    }

    public void Update(double seconds)
    {
        IsMoving = IsVisible && desk.Transport.IsPlaying && seconds > 0;
        if (IsMoving && processor is not null)
        {
            history.Add(processor.LatestReductionDb);
        }
    }

    public override void Draw(Painter painter)
    {
        base.Draw(painter);
        painter.Frame(Bounds, Tone.Edge, 1, 2, 0.6f);
        painter.Text("gain reduction, last 6 s", new(Bounds.X + 7, Bounds.Bottom - 16, 160, 14), Tone.Quiet, Lettering.Small);
        painter.Text("−3", new(Bounds.Right - 40, Bounds.Y + Bounds.Height / 4 - 7, 36, 14), Tone.Quiet, Lettering.Small, Side.Right);
        painter.Text("−6 dB", new(Bounds.Right - 40, Bounds.Y + Bounds.Height / 2 - 7, 36, 14), Tone.Quiet, Lettering.Small, Side.Right);
    }

    private static bool Reduces(string id) => id is "compressor" or "limiter" or "expander" or "de-esser" or "resonance-suppressor" or "equaliser" or "gate";
}
