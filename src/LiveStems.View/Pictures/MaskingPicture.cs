using LiveStems.Analysis.Masking;
using ScottPlot;
using ScottPlot.TickGenerators;

namespace LiveStems.View.Pictures;

/// <summary>The masking map: stems over frequency, the darker the more of the time the others cover them; as delivered and corrected.</summary>
public static class MaskingPicture
{
    private const double LeastSounding = 0.01;

    /// <summary>Draws and saves the picture.</summary>
    /// <param name="song">Title of the song.</param>
    /// <param name="before">The map of the stems as delivered.</param>
    /// <param name="after">The map of the stems with their corrections.</param>
    /// <param name="path">File to write; its folder exists.</param>
    /// <exception cref="IOException">The file can't be written.</exception>
    /// <exception cref="PictureException">The drawing library does not load on this system.</exception>
    public static void Save(string song, MaskingMap before, MaskingMap after, string path)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        Picture picture = new(song);
        Draw(picture.AddFrequencyChart(string.Empty, "covered by the others, as delivered (dark: always; empty: does not sound there)", 50, 16_000), before);
        Draw(picture.AddFrequencyChart(string.Empty, "covered by the others, with the corrections", 50, 16_000), after);
        picture.Save(path);
    }

    private static void Draw(Plot chart, MaskingMap map)
    {
        NumericManual names = new();
        for (int stem = 0; stem < map.Stems.Length; stem++)
        {
            names.AddMajor(stem, map.Stems[stem]);
            for (int band = 0; band < map.BandHz.Length; band++)
            {
                if (map.SoundingShare[stem][band] < LeastSounding)
                {
                    continue;
                }

                double low = Picture.At(band == 0 ? map.BandHz[0] * 0.8 : Math.Sqrt(map.BandHz[band - 1] * map.BandHz[band]));
                double high = Picture.At(band == map.BandHz.Length - 1 ? map.BandHz[band] * 1.06 : Math.Sqrt(map.BandHz[band] * map.BandHz[band + 1]));
                ScottPlot.Plottables.Rectangle cell = chart.Add.Rectangle(low, high, stem - 0.4, stem + 0.4);
                cell.FillColor = Color.FromHex(PicturePalette.Line(1)).WithAlpha(0.06 + 0.94 * map.CoveredShare[stem][band]);
                cell.LineWidth = 0;
            }
        }

        chart.Axes.Left.TickGenerator = names;
        chart.Axes.SetLimitsY(map.Stems.Length - 0.4, -0.6);
    }
}
