using LiveStems.Analysis.Measuring;
using ScottPlot;

namespace LiveStems.View.Pictures;

/// <summary>Loudness, peak-to-short-term ratio and correlation over time.</summary>
public static class LoudnessPicture
{
    private const double LowestLufs = -50;

    /// <summary>Draws the songs of an album.</summary>
    public static Picture Of(AlbumMeasurement album)
    {
        ArgumentNullException.ThrowIfNull(album);
        return Of(album.Songs.Select(song => (song.Title, song.Timeline)));
    }

    /// <summary>Draws files.</summary>
    public static Picture Of(IReadOnlyList<FileMeasurement> files)
    {
        ArgumentNullException.ThrowIfNull(files);
        return Of(files.Select(file => (Path.GetFileName(file.Info.Path), file.Timeline)));
    }

    private static Picture Of(IEnumerable<(string Name, LoudnessTimeline Timeline)> programmes)
    {
        Picture picture = new("Loudness");
        foreach ((string name, LoudnessTimeline timeline) in programmes)
        {
            Plot loudness = picture.AddChart("time (s)", "LUFS, LU", name);
            Picture.LegendBeside(loudness);
            Draw(loudness, timeline, point => Math.Max(point.MomentaryLufs, LowestLufs), 5, "momentary");
            Draw(loudness, timeline, point => Math.Max(point.ShortTermLufs, LowestLufs), 0, "short-term");
            Draw(loudness, timeline, point => point.PeakToShortTermLu, 1, "peak to short-term");
            Plot correlation = picture.AddChart("time (s)", "correlation");
            Draw(correlation, timeline, point => point.Correlation, 2, string.Empty);
            correlation.Axes.SetLimitsY(-1.05, 1.05);
        }

        return picture;
    }

    private static void Draw(Plot chart, LoudnessTimeline timeline, Func<TimelinePoint, double> value, int colour, string words)
    {
        List<TimelinePoint> points = [.. timeline.Points.Where(point => double.IsFinite(value(point)))];
        if (points.Count > 0)
        {
            Picture.DrawLine(chart, [.. points.Select(point => point.Seconds)], [.. points.Select(value)], colour, words);
        }
    }
}
