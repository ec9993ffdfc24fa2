using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The time axis above the lanes: times, and the names of places.</summary>
internal static class LaneRuler
{
    private const int MarkEvery = 90;

    private static readonly double[] MarkSeconds = [0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300];

    /// <summary>Draws the part of the song, from 0 to 1, that is in sight.</summary>
    public static void Draw(Painter painter, in Box ruler, TransportModel transport, (double From, double To) span)
    {
        if (transport.LengthSeconds > 0)
        {
            DrawTimes(painter, ruler, transport.LengthSeconds, span, DrawMarkers(painter, ruler, transport, span));
        }
    }

    private static void DrawTimes(Painter painter, in Box ruler, double length, (double From, double To) span, List<(float Left, float Right)> taken)
    {
        (double from, double to) = span;
        double perMark = (to - from) * length / Math.Max(1, ruler.Width) * MarkEvery;
        double step = MarkSeconds.FirstOrDefault(each => each >= perMark, 600);
        for (double at = Math.Ceiling(from * length / step) * step; at <= to * length; at += step)
        {
            float x = ruler.X + (float)((at / length - from) / (to - from)) * ruler.Width;
            painter.Line(x + 0.5f, ruler.Bottom - 5, x + 0.5f, ruler.Bottom, Tone.Edge);
            string words = TimeText.Of(at, step < 1);
            float right = x + 6 + painter.Fonts.Width(words, Lettering.Small);
            if (right <= ruler.Right && !taken.Exists(each => x < each.Right && right > each.Left))
            {
                painter.Text(words, new(x + 4, ruler.Y, 60, ruler.Height), Tone.Quiet, Lettering.Small);
            }
        }
    }

    // Names of markers come before times; each ends where the next marker stands. Returns where they are.
    private static List<(float Left, float Right)> DrawMarkers(Painter painter, in Box ruler, TransportModel transport, (double From, double To) span)
    {
        List<(float Left, float Right)> taken = [];
        float[] places = [.. transport.Markers.Select(marker => (float)((marker.Seconds / transport.LengthSeconds - span.From) / (span.To - span.From)))];
        foreach ((int i, (double _, string name)) in transport.Markers.Index())
        {
            float x = ruler.X + places[i] * ruler.Width;
            if (places[i] is < 0 or >= 1)
            {
                continue;
            }

            float next = ruler.X + (i + 1 < places.Length ? Math.Min(1, places[i + 1]) : 1) * ruler.Width;
            float width = Math.Min(painter.Fonts.Width(name, Lettering.Small) + 6, Math.Max(0, next - x - 8));
            painter.Fill(new(x, ruler.Y + 3, 2, ruler.Height - 3), Tone.Trouble);
            painter.Text(name, new(x + 5, ruler.Y, width, ruler.Height), Tone.Trouble, Lettering.Small);
            taken.Add((x - 3, x + 5 + width));
        }

        return taken;
    }
}
