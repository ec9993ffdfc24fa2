using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Plots;

namespace LiveStems.View.Screens;

/// <summary>The gain of the chosen processor over frequency, of the middle and, where it differs, of the side.</summary>
internal sealed class ResponseControl : GainPicture
{
    private static readonly double[] MarksHz = [100, 1000, 10_000];

    public ResponseControl(AlbumDesk desk)
        : base(desk) =>
        Tip = $"What it does to each frequency, measured with tones of {FrequencyText.OfDb(MeasuredProcessor.ResponseDbfs, "dBFS", 0)} once its values stand still.";

    protected override string NameOf(MeasuredProcessor known) => known switch
    {
        { TreatsSideApart: true } => "response of the middle, and of the side (thin)",
        { ShapesFrequencies: true } => "response",
        _ => $"response: {FrequencyText.OfDb(known.Response.Count == 0 ? 0 : known.Response[0].GainDb)} everywhere",
    };

    protected override IEnumerable<double> GainsDb(MeasuredProcessor known) => known.Response.Concat(known.SideResponse).Select(point => point.GainDb);

    protected override void DrawIn(Painter painter, MeasuredProcessor known, in Field field)
    {
        foreach (double hertz in MarksHz)
        {
            Mark(painter, field, Place(hertz), LogFrequencyAxis.Label(hertz));
        }

        if (known.TreatsSideApart)
        {
            Curve(painter, field, known.SideResponse.Select(point => (Place(point.FrequencyHz), point.GainDb)), Tone.Input);
        }

        Curve(painter, field, known.Response.Select(point => (Place(point.FrequencyHz), point.GainDb)), Tone.Output);
    }

    private static double Place(double hertz) => LogFrequencyAxis.Audible.ToPosition(hertz);
}
