using LiveStems.View.Plots;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace LiveStems.View.Pictures;

/// <summary>
/// A sheet with one or more charts one below the other, in one style, saved as PNG. Every picture that a command writes is
/// made of these, so that they look alike.
/// </summary>
public sealed class Picture
{
    private readonly List<Plot> charts = [];
    private readonly string title;

    /// <summary>An empty sheet.</summary>
    /// <param name="title">What it shows, in plain words; stands over the first chart.</param>
    public Picture(string title) => this.title = title;

    /// <summary>Adds a chart below the others.</summary>
    /// <param name="horizontal">Words and unit of the horizontal axis.</param>
    /// <param name="vertical">Words and unit of the vertical axis.</param>
    /// <param name="heading">What this chart shows, or nothing.</param>
    /// <returns>The chart, to draw on; colours from <see cref="PicturePalette"/>.</returns>
    public Plot AddChart(string horizontal, string vertical, string heading = "")
    {
        Plot chart = new();
        chart.FigureBackground.Color = Color.FromHex(PicturePalette.Paper);
        chart.DataBackground.Color = Color.FromHex(PicturePalette.Paper);
        chart.Axes.Color(Color.FromHex(PicturePalette.Ink));
        chart.Grid.MajorLineColor = Color.FromHex(PicturePalette.Grid);
        chart.XLabel(horizontal, 13);
        chart.YLabel(vertical, 13);
        string words = (charts.Count, heading) switch
        {
            (0, "") => title,
            (0, _) => $"{title}: {heading}",
            _ => heading,
        };
        if (words.Length > 0)
        {
            chart.Title(words, 15);
        }

        chart.HideLegend();
        chart.Legend.BackgroundColor = Color.FromHex(PicturePalette.Paper);
        chart.Legend.OutlineColor = Color.FromHex(PicturePalette.Grid);
        chart.Legend.FontColor = Color.FromHex(PicturePalette.Ink);
        charts.Add(chart);
        return chart;
    }

    /// <summary>Adds a chart whose horizontal axis is frequency on a logarithmic scale: give positions as log10 of the frequency in Hz (<see cref="At"/>).</summary>
    /// <param name="vertical">Words and unit of the vertical axis.</param>
    /// <param name="heading">What this chart shows, or nothing.</param>
    /// <param name="lowestHz">Left end in Hz.</param>
    /// <param name="highestHz">Right end in Hz.</param>
    public Plot AddFrequencyChart(string vertical, string heading = "", double lowestHz = 20, double highestHz = 20_000)
    {
        Plot chart = AddChart("frequency (Hz)", vertical, heading);
        NumericManual ticks = new();
        foreach (double mark in new LogFrequencyAxis(lowestHz, highestHz).Marks())
        {
            ticks.AddMajor(At(mark), LogFrequencyAxis.Label(mark));
        }

        chart.Axes.Bottom.TickGenerator = ticks;
        chart.Axes.SetLimitsX(At(lowestHz), At(highestHz));
        return chart;
    }

    /// <summary>Horizontal position of a frequency in Hz on a frequency chart.</summary>
    public static double At(double frequencyHz) => Math.Log10(frequencyHz);

    /// <summary>Draws a line.</summary>
    /// <param name="chart">Chart of this sheet.</param>
    /// <param name="across">Horizontal positions, ascending; on a frequency chart through <see cref="At"/>.</param>
    /// <param name="up">Vertical positions, as many.</param>
    /// <param name="colour">Index into <see cref="PicturePalette.Lines"/>; beyond its end the colours come again with dashed lines.</param>
    /// <param name="words">Words in the legend, or nothing.</param>
    public static void DrawLine(Plot chart, IReadOnlyList<double> across, IReadOnlyList<double> up, int colour = 0, string words = "")
    {
        ArgumentNullException.ThrowIfNull(chart);
        ScottPlot.Plottables.Scatter line = chart.Add.ScatterLine(across.ToArray(), up.ToArray(), Color.FromHex(PicturePalette.Line(colour)));
        line.LineWidth = 1.6f;
        line.LinePattern = colour < PicturePalette.Lines.Count ? LinePattern.Solid : LinePattern.Dashed;
        line.LegendText = words;
        if (words.Length > 0)
        {
            LegendBeside(chart);
        }
    }

    /// <summary>Puts the legend beside a chart rather than into it, where it would cover what is drawn.</summary>
    /// <param name="chart">Chart of this sheet.</param>
    public static void LegendBeside(Plot chart)
    {
        ArgumentNullException.ThrowIfNull(chart);
        if (!chart.Axes.GetPanels().Any(panel => panel is ScottPlot.Panels.LegendPanel))
        {
            chart.ShowLegend(Edge.Right);
        }
    }

    /// <summary>Saves the sheet as PNG: written beside and renamed, so that no half picture stands under the name.</summary>
    /// <param name="path">File to write; its folder exists.</param>
    /// <param name="width">Width in pixels.</param>
    /// <param name="heightPerChart">Height of each chart in pixels.</param>
    /// <exception cref="IOException">The file can't be written.</exception>
    /// <exception cref="UnauthorizedAccessException">The file may not be written.</exception>
    /// <exception cref="PictureException">The drawing library does not load on this system.</exception>
    public void Save(string path, int width = 1000, int heightPerChart = 360)
    {
        byte[] bytes = Draw(width, heightPerChart * charts.Count);
        string beside = path + ".part";
        try
        {
            File.WriteAllBytes(beside, bytes);
            File.Move(beside, path, overwrite: true);
        }
        catch
        {
            File.Delete(beside);
            throw;
        }
    }

    private byte[] Draw(int width, int height)
    {
        try
        {
            Multiplot sheet = new();
            sheet.RemovePlot(sheet.Subplots.GetPlot(0));
            foreach (Plot chart in charts)
            {
                sheet.AddPlot(chart);
            }

            return sheet.Render(width, height).GetImageBytes(ImageFormat.Png);
        }
        catch (Exception failure) when (failure is DllNotFoundException or TypeInitializationException)
        {
            throw new PictureException("pictures need the drawing library's system parts (on Debian: apt install libfontconfig1); every result is also there as text and with --json", failure);
        }
    }
}
