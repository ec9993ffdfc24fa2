using LiveStems.Analysis.Trouble;
using ScottPlot;

namespace LiveStems.View.Pictures;

/// <summary>The findings of a song over frequency, each with its number: surplus above, piercing below; and when they happen.</summary>
public static class TroublePicture
{
    private const float StretchWidth = 6;
    private const int RowHeight = 22;
    private const int LeastHeight = 360;

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
        Times(picture.AddChart("time (s)", string.Empty, "when"), findings, stems);
        picture.Save(path, heightPerChart: Math.Max(LeastHeight, RowHeight * findings.Count + 90));
    }

    private static void Brackets(Plot chart, IReadOnlyList<(string Stem, TroubleFinding Finding)> findings, List<string> stems, Func<TroubleFinding, double> height)
    {
        HashSet<string> named = [];
        for (int place = 0; place < findings.Count; place++)
        {
            (string stem, TroubleFinding finding) = findings[place];
            double top = height(finding);
            double low = Picture.At(Math.Max(20, finding.LowHz));
            double high = Picture.At(Math.Min(20_000, finding.HighHz));
            int colour = stems.IndexOf(stem);
            Picture.DrawLine(chart, [low, low, high, high], [0, top, top, 0], colour, named.Add(stem) ? stem : string.Empty);
            ScottPlot.Plottables.Text number = chart.Add.Text($"{place + 1}", (low + high) / 2, top);
            number.LabelFontColor = Color.FromHex(PicturePalette.Line(colour));
            number.LabelAlignment = Alignment.LowerCenter;
        }

        chart.Axes.SetLimitsY(0, Math.Max(1, 1.15 * findings.Select(each => height(each.Finding)).DefaultIfEmpty(1).Max()));
        Picture.LegendBeside(chart);
    }

    private static void Times(Plot chart, IReadOnlyList<(string Stem, TroubleFinding Finding)> findings, List<string> stems)
    {
        for (int place = 0; place < findings.Count; place++)
        {
            foreach (TimeRange range in findings[place].Finding.Ranges)
            {
                double[] across = [range.StartSeconds, range.EndSeconds];
                double[] up = [place, place];
                ScottPlot.Plottables.Scatter stretch = chart.Add.ScatterLine(across, up, Color.FromHex(PicturePalette.Line(stems.IndexOf(findings[place].Stem))));
                stretch.LineWidth = StretchWidth;
            }
        }

        double end = findings.SelectMany(each => each.Finding.Ranges).Select(range => range.EndSeconds).DefaultIfEmpty(1).Max();
        chart.Axes.SetLimits(0, Math.Max(1, end), findings.Count - 0.5, -0.5);
        chart.Axes.Left.SetTicks(
            [.. findings.Select((_, place) => (double)place)],
            [.. findings.Select((each, place) => $"{FindingWords.Kind(each.Finding.Kind)}, {each.Stem}  {place + 1}")]);
    }
}
