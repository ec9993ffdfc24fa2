using LiveStems.Analysis.Balance;
using ScottPlot;

namespace LiveStems.View.Pictures;

/// <summary>The songs of an album against their middle: spectra at equal loudness, loudness and peak-to-loudness ratio.</summary>
public static class AlbumPicture
{
    private const double LowestHz = 31.5;
    private const double HighestHz = 16_000;
    private const double LargestDb = 12;

    /// <summary>Draws the songs.</summary>
    public static Picture Of(string title, AlbumBalance album)
    {
        ArgumentNullException.ThrowIfNull(album);
        Picture picture = new(title);
        Dictionary<double, double> middle = album.MedianCurve.ToDictionary(point => point.Hz, point => point.Db);
        Plot spectra = picture.AddFrequencyChart("dB above the middle", "spectra at equal loudness, against the album's middle", LowestHz, HighestHz);
        Picture.LegendBeside(spectra);
        for (int i = 0; i < album.Songs.Count; i++)
        {
            List<(double Hz, double Db)> curve = [.. album.Songs[i].Curve
                .Where(point => point.Hz is >= LowestHz * 0.9 and <= HighestHz * 1.1 && double.IsFinite(point.Db))
                .Select(point => (point.Hz, Math.Clamp(point.Db - middle[point.Hz], -LargestDb, LargestDb)))];
            if (curve.Count > 0)
            {
                Picture.DrawLine(spectra, [.. curve.Select(point => Picture.At(point.Hz))], [.. curve.Select(point => point.Db)], i, $"{i + 1} {album.Songs[i].Title}");
            }
        }

        spectra.Axes.SetLimitsY(-LargestDb, LargestDb);
        Plot levels = picture.AddChart("song", "LUFS, LU", "loudness and peak-to-loudness ratio");
        Picture.LegendBeside(levels);
        double[] numbers = [.. Enumerable.Range(1, album.Songs.Count).Select(number => (double)number)];
        Marks(levels, numbers, [.. album.Songs.Select(song => song.Loudness.IntegratedLufs)], 0, "loudness (LUFS)");
        Marks(levels, numbers, [.. album.Songs.Select(song => song.PeakToLoudnessLu)], 1, "peak-to-loudness ratio (LU)");
        levels.Axes.Bottom.SetTicks(numbers, [.. numbers.Select(number => $"{number}")]);
        levels.Axes.SetLimitsX(0.5, album.Songs.Count + 0.5);
        return picture;
    }

    private static void Marks(Plot chart, double[] across, double[] up, int colour, string words)
    {
        (double X, double Y)[] there = [.. across.Zip(up).Where(pair => double.IsFinite(pair.Second))];
        ScottPlot.Plottables.Markers marks = chart.Add.Markers(there.Select(pair => pair.X).ToArray(), there.Select(pair => pair.Y).ToArray());
        marks.Color = Color.FromHex(PicturePalette.Line(colour));
        marks.MarkerSize = 9;
        marks.LegendText = words;
    }
}
