using LiveStems.Analysis.Intake;
using ScottPlot;

namespace LiveStems.View.Pictures;

/// <summary>The intake check as a picture: for each song its stems over time, what was found where.</summary>
public static class IntakePicture
{
    /// <summary>Draws a report.</summary>
    public static Picture Of(IntakeReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        Picture picture = new("Intake check");
        foreach (SongFacts song in report.Songs)
        {
            Draw(picture.AddChart("time (s)", string.Empty, song.Title), song, [.. report.Findings.Where(finding => finding.Song == song.Title)]);
        }

        return picture;
    }

    private static void Draw(Plot chart, SongFacts song, List<IntakeFinding> findings)
    {
        List<SongFile> files = song.RoughMix is null ? [.. song.Stems] : [.. song.Stems, song.RoughMix];
        double longest = files.Max(file => file.Facts?.Info.Seconds ?? 0);
        for (int i = 0; i < files.Count; i++)
        {
            int row = files.Count - 1 - i;
            if (files[i].Facts is { } facts)
            {
                Bar(chart, row, 0, facts.Info.Seconds, PicturePalette.Grid, 9);
                Bar(chart, row, facts.SoundStartSeconds ?? 0, facts.SoundEndSeconds ?? 0, PicturePalette.Quiet, 3);
                Marks(chart, row, facts.Dropouts, facts.Info.SampleRate, 1);
                Marks(chart, row, facts.Clipping, facts.Info.SampleRate, 3);
                Marks(chart, row, facts.Clicks, facts.Info.SampleRate, 0);
            }

            string words = string.Join(" · ", findings.Where(finding => finding.Stem == files[i].File.Name && finding.Rank != FindingRank.Note).Select(Word).Distinct());
            if (words.Length > 0)
            {
                ScottPlot.Plottables.Text label = chart.Add.Text(words, longest * 1.01, row);
                label.LabelFontColor = Color.FromHex(PicturePalette.Line(1));
                label.LabelAlignment = Alignment.MiddleLeft;
            }
        }

        chart.Axes.Left.SetTicks([.. Enumerable.Range(0, files.Count).Select(row => (double)row)], [.. files.Select(file => file.File.Name).Reverse()]);
        chart.Axes.SetLimits(0, longest * 1.25, -0.7, files.Count - 0.3);
    }

    private static void Bar(Plot chart, int row, double start, double end, string colour, float width)
    {
        ScottPlot.Plottables.LinePlot line = chart.Add.Line(start, row, Math.Max(end, start), row);
        line.Color = Color.FromHex(colour);
        line.LineWidth = width;
    }

    private static void Marks(Plot chart, int row, EventList places, int sampleRate, int colour)
    {
        if (places.Count > 0)
        {
            ScottPlot.Plottables.Markers marks = chart.Add.Markers(
                places.Places.Select(place => (double)place.Frame / sampleRate).ToArray(),
                places.Places.Select(_ => (double)row).ToArray());
            marks.Color = Color.FromHex(PicturePalette.Line(colour));
            marks.MarkerSize = 7;
        }
    }

    private static string Word(IntakeFinding finding) => finding.Kind switch
    {
        FindingKind.Delay => $"{finding.Size:0.##} samples",
        FindingKind.Gain => $"{finding.Size:+0.0;−0.0} dB",
        FindingKind.DcOffset => "offset",
        FindingKind.InterSampleOvers => "overs",
        _ => string.Concat(finding.Kind.ToString().Select((letter, place) => place > 0 && char.IsUpper(letter) ? $" {char.ToLowerInvariant(letter)}" : char.ToLowerInvariant(letter).ToString())),
    };
}
