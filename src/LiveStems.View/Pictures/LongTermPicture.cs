using LiveStems.Analysis.Spectra;
using ScottPlot;

namespace LiveStems.View.Pictures;

/// <summary>Long-term spectra over frequency.</summary>
public static class LongTermPicture
{
    private const double Depth = 90;

    /// <summary>Draws one spectrum with its percentiles, or several means over each other.</summary>
    public static Picture Of(IReadOnlyList<(string Name, LongTermSpectrum Spectrum)> spectra)
    {
        ArgumentNullException.ThrowIfNull(spectra);
        Picture picture = new("Spectrum");
        double loudest = spectra.Max(each => each.Spectrum.Bands.Max(band => double.IsFinite(band.MaximumDbfs) ? band.MaximumDbfs : -100));
        if (spectra.Count == 1)
        {
            LongTermSpectrum only = spectra[0].Spectrum;
            Plot chart = Chart(picture, spectra[0].Name, loudest);
            Draw(chart, only, band => band.Percentile99Dbfs, 1, "99 % of the time below");
            Draw(chart, only, band => band.Percentile90Dbfs, 4, "90 %");
            Draw(chart, only, band => band.MeanDbfs, 0, "mean");
            Draw(chart, only, band => band.Percentile50Dbfs, 2, "50 %");
            Draw(chart, only, band => band.Percentile10Dbfs, 3, "10 %");
            Picture.LegendBeside(chart);
            return picture;
        }

        Plot all = Chart(picture, "mean levels of bands", loudest);
        for (int i = 0; i < spectra.Count; i++)
        {
            Draw(all, spectra[i].Spectrum, band => band.MeanDbfs, i, spectra[i].Name);
        }

        Picture.LegendBeside(all);
        return picture;
    }

    private static Plot Chart(Picture picture, string heading, double loudest)
    {
        Plot chart = picture.AddFrequencyChart("level of the band (dBFS)", heading);
        chart.Axes.SetLimitsY(loudest - Depth, loudest + 5);
        return chart;
    }

    private static void Draw(Plot chart, LongTermSpectrum spectrum, Func<BandLevel, double> level, int colour, string words)
    {
        List<BandLevel> bands = [.. spectrum.Bands.Where(band => double.IsFinite(level(band)))];
        if (bands.Count > 0)
        {
            Picture.DrawLine(chart, [.. bands.Select(band => Picture.At(band.Band.MidHz))], [.. bands.Select(level)], colour, words);
        }
    }
}
