using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>
/// What the chosen processor does, in pictures: which of them is decided by what was seen and measured of it, so a processor
/// of others is shown like one of ours.
/// </summary>
internal sealed class ProcessorPictures : Control
{
    private const float Between = 5;
    private const float LeastUnits = 96;

    private readonly AlbumDesk desk;
    private readonly LevelCurveControl curve;
    private readonly ReductionPicture history;
    private readonly ResponseControl response;
    private readonly HarmonicsControl harmonics;
    private readonly StepControl step;
    private List<Control> beside = [];
    private (ProcessorModel? Of, bool HasReduced, long Album, long Probed) shown = (null, false, -1, -1);

    public ProcessorPictures(AlbumDesk desk)
    {
        this.desk = desk;
        curve = Add(new LevelCurveControl(desk) { Tip = "How loud it comes out for how loud it goes in; the point shows where the sound is now." });
        history = Add(new ReductionPicture(desk) { Tip = "How far it turned down, and when, in the last six seconds." });
        response = Add(new ResponseControl(desk));
        harmonics = Add(new HarmonicsControl(desk) { Tip = "The overtones it adds to a tone of 1 kHz, in dB below the tone: even ones are heard as warmth, high odd ones as an edge." });
        step = Add(new StepControl(desk));
        IsVisible = false;
    }

    /// <summary>The pictures beside the level curve, in their order.</summary>
    public IReadOnlyList<Control> Beside => beside;

    /// <summary>True when the level curve is shown.</summary>
    public bool HasCurve => curve.IsVisible;

    /// <summary>Takes in what is new.</summary>
    public void Update(double seconds)
    {
        ProcessorModel? selected = desk.Chain.Selected is { } chosen && ProbeModel.IsFor(chosen) ? chosen : null;
        (ProcessorModel?, bool, long, long) now = (selected, selected?.HasReduced ?? false, desk.Revision, desk.Probed.Revision);
        if (now != shown)
        {
            shown = now;
            Choose(selected);
        }

        history.Update(seconds);
        curve.Update(seconds);
        response.Update();
        harmonics.Update();
        step.Update();
    }

    protected override void ArrangeChildren(ITextRuler ruler)
    {
        float square = curve.IsVisible ? Bounds.Height : 0;
        curve.Arrange(new(Bounds.X, Bounds.Y, square, square), ruler);
        float x = Bounds.X + (square > 0 ? square + Between : 0);
        bool hasRoom = Bounds.Right - x >= beside.Count * LeastUnits;
        float width = hasRoom ? (Bounds.Right - x - (beside.Count - 1) * Between) / Math.Max(1, beside.Count) : Bounds.Right - x;
        for (int i = 0; i < beside.Count; i++)
        {
            // Where there is room for one, it is the first.
            bool isShown = hasRoom || i == 0;
            beside[i].Arrange(isShown ? new(x + i * (width + Between), Bounds.Y, width, Bounds.Height) : new(x, Bounds.Y, 0, 0), ruler);
        }
    }

    // What it did to this music comes first, then what it does to any.
    private void Choose(ProcessorModel? selected)
    {
        IsVisible = selected is not null;
        MeasuredProcessor? known = desk.Probed.Known;
        history.Show(selected);
        curve.Show(selected);
        List<Control> wanted = [];
        AddWhere(selected?.HasReduced == true, history);
        AddWhere(known is { ShapesFrequencies: true } or { TreatsSideApart: true }, response);
        AddWhere(known is { HarmonicsAtDbfs: not null }, harmonics);
        AddWhere(known is { MovesAfterStep: true }, step);
        AddWhere(wanted.Count == 0, response);
        foreach (Control picture in new Control[] { history, response, harmonics, step })
        {
            picture.IsVisible = wanted.Contains(picture);
        }

        if (!beside.SequenceEqual(wanted))
        {
            beside = wanted;
            Host?.MarkLayout();
        }

        void AddWhere(bool isTrue, Control picture)
        {
            const int Most = 2;
            if (isTrue && wanted.Count < Most)
            {
                wanted.Add(picture);
            }
        }
    }
}
