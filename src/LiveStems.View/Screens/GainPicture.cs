using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>A small picture of gains over an axis, as the probe measured them.</summary>
internal abstract class GainPicture(AlbumDesk desk) : MeasuredPicture(desk)
{
    private const double LeastDb = 3;
    private const double DeepestDb = -48;

    private static readonly double[] Steps = [3, 6, 12, 24];

    /// <summary>All gains in dB that are to be seen.</summary>
    protected abstract IEnumerable<double> GainsDb(MeasuredProcessor known);

    // As far up and down as the gains go, and 3 dB at least.
    protected sealed override (double LowDb, double HighDb, double StepDb) ScaleOf(MeasuredProcessor known)
    {
        double[] gains = [.. GainsDb(known).Where(double.IsFinite)];
        double high = Math.Max(LeastDb, Math.Ceiling(gains.DefaultIfEmpty(0).Max() / LeastDb) * LeastDb);
        double low = Math.Max(DeepestDb, Math.Min(-LeastDb, Math.Floor(gains.DefaultIfEmpty(0).Min() / LeastDb) * LeastDb));
        return (low, high, Steps.FirstOrDefault(each => (high - low) / each <= 4, Steps[^1]));
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
        Number(painter, field, place, number);
    }
}
