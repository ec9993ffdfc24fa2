using LiveStems.Dsp.Dynamics;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Plots;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>The level curve of the chosen processor where its gain depends on the level, with the point where its sound is now.</summary>
internal sealed class LevelCurveControl(AlbumDesk desk) : PlotControl
{
    private readonly LevelCurvePlot plot = new();
    private readonly FallingPeak level = new();
    private ProcessorModel? processor;

    public override IPlot Plot => plot;

    /// <summary>Shows the curve of a processor as its values are; takes no place for one that has none.</summary>
    public void Show(ProcessorModel? shown)
    {
        if (!ReferenceEquals(processor, shown))
        {
            level.Reset();
        }

        processor = shown;
        IsVisible = shown is not null && Curve(shown) is not null;
        if (IsVisible)
        {
            plot.Set(Curve(shown!)!);
        }
    }

    public void Update(double seconds)
    {
        IsMoving = IsVisible && processor is not null;
        if (IsMoving)
        {
            (float left, float right) = desk.Player.TakeInputPeaks(processor!.Place);
            level.Add(Math.Max(left, right), seconds);
            plot.InputDbfs = level.Db;
        }
    }

    public override void DrawOver(Painter painter)
    {
        painter.Frame(Bounds, Tone.Edge, 1, 2, 0.6f);
        painter.Text("out", new(Bounds.X + 5, Bounds.Y + 2, 30, 14), Tone.Quiet, Lettering.Small);
        painter.Text("in", new(Bounds.X, Bounds.Bottom - 16, Bounds.Width - 5, 14), Tone.Quiet, Lettering.Small, Side.Right);
    }

    // Of some the curve is known from their values, and so moves along while one is dragged; of all others it is measured once
    // their values stand still.
    private Func<double, double>? Curve(ProcessorModel processor)
    {
        double Value(string id) => processor.Parameter(id)?.Value ?? 0;
        switch (processor.Slot.Processor)
        {
            case "compressor":
                GainComputer compressor = GainComputer.Compressor(Value("thresholdDb"), Value("ratio"), Value("kneeDb"));
                double makeUp = Value("makeUpDb");
                return input => input - compressor.ReductionDb(input) + makeUp;
            case "expander" when processor.Parameter("ratio") is not null && processor.Parameter("rangeDb") is not null:
                GainComputer expander = GainComputer.Expander(Value("thresholdDb"), Value("ratio"), Value("kneeDb"), Math.Abs(Value("rangeDb")));
                return input => input - expander.ReductionDb(input);
            case "limiter":
                double gain = Value("inputGainDb");
                double ceiling = processor.Parameter("ceilingDbtp")?.Value ?? 0;
                return input => Math.Min(input + gain, ceiling);
            default:
                return desk.Probed.Known is { ActsOnLevel: true } known ? known.OutputDbfs : null;
        }
    }
}
