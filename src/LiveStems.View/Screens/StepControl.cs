using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The gain of the chosen processor while the level of a tone steps up and, a second later, down again.</summary>
internal sealed class StepControl : GainPicture
{
    private const double FromSeconds = -0.2;
    private const double ToSeconds = 2;

    // A picture has no more columns to show than that.
    private const int MostPoints = 280;

    private static readonly (double Seconds, string Name)[] Marks = [(0, "up"), (1, "down")];

    public StepControl(AlbumDesk desk)
        : base(desk) =>
        Tip = "How its gain follows when a tone of 1 kHz steps from −30 to −6 dBFS and, a second later, back.";

    protected override string NameOf(MeasuredProcessor known) => "gain after a step of 24 dB";

    protected override IEnumerable<double> GainsDb(MeasuredProcessor known) => Shown(known).Select(point => point.GainDb);

    protected override void DrawIn(Painter painter, MeasuredProcessor known, in Field field)
    {
        foreach ((double seconds, string name) in Marks)
        {
            Mark(painter, field, Place(seconds), name);
        }

        Curve(painter, field, Shown(known).Select(point => (Place(point.Seconds), point.GainDb)), Tone.Output);
    }

    private static IEnumerable<(double Seconds, double GainDb)> Shown(MeasuredProcessor known)
    {
        int every = Math.Max(1, known.Step.Count / MostPoints);
        for (int i = 0; i < known.Step.Count; i += every)
        {
            if (known.Step[i].Seconds is >= FromSeconds and <= ToSeconds)
            {
                yield return (known.Step[i].Seconds, known.Step[i].GainDb);
            }
        }
    }

    private static double Place(double seconds) => (seconds - FromSeconds) / (ToSeconds - FromSeconds);
}
