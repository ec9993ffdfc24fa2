using LiveStems.Analysis.Trouble;
using ScottPlot;

namespace LiveStems.View.Pictures;

/// <summary>The findings of a song over frequency: surplus above, piercing below; and when they happen.</summary>
public static class TroublePicture
{
    /// <summary>Draws and saves the picture.</summary>
    /// <param name="song">Title of the song.</param>
    /// <param name="findings">Findings with the names of their stems.</param>
    /// <param name="path">File to write; its folder exists.</param>
    /// <exception cref="IOException">The file can't be written.</exception>
    /// <exception cref="PictureException">The drawing library does not load on this system.</exception>
    public static void Save(string song, IReadOnlyList<(string Stem, TroubleFinding Finding)> findings, string path)
    {
        ArgumentNullException.ThrowIfNull(findings);
        Picture picture = new(song);
        List<string> stems = [.. findings.Select(each => each.Stem).Distinct()];
        Brackets(picture.AddFrequencyChart("surplus over the trend (dB)", "too much"), findings, stems, finding => finding.SurplusDb);
        Brackets(picture.AddFrequencyChart("piercing (sone)", "hurts"), findings, stems, finding => finding.PiercingSone);
        Times(picture.AddChart("time (s)", "finding", "when"), findings, stems);
        picture.Save(path);
    }

    private static void Brackets(Plot chart, IReadOnlyList<(string Stem, TroubleFinding Finding)> findings, List<string> stems, Func<TroubleFinding, double> height)
    {
        HashSet<string> named = [];
        foreach ((string stem, TroubleFinding finding) in findings)
        {
            double top = height(finding);
            double low = Picture.At(Math.Max(20, finding.LowHz));
            double high = Picture.At(Math.Min(20_000, finding.HighHz));
            Picture.DrawLine(chart, [low, low, high, high], [0, top, top, 0], stems.IndexOf(stem), named.Add(stem) ? stem : string.Empty);
        }

        chart.Axes.SetLimitsY(0, Math.Max(1, 1.15 * findings.Select(each => height(each.Finding)).DefaultIfEmpty(1).Max()));
        chart.ShowLegend();
    }

    private static void Times(Plot chart, IReadOnlyList<(string Stem, TroubleFinding Finding)> findings, List<string> stems)
    {
        for (int place = 0; place < findings.Count; place++)
        {
            foreach (TimeRange range in findings[place].Finding.Ranges)
            {
                Picture.DrawLine(chart, [range.StartSeconds, range.EndSeconds], [place + 1, place + 1], stems.IndexOf(findings[place].Stem));
            }
        }

        chart.Axes.SetLimitsY(findings.Count + 1, 0);
    }
}
