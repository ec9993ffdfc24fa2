using LiveStems.Analysis.Measuring;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>Measurements in tables.</summary>
internal static class MeasureText
{
    private const int RowsOverTime = 40;

    /// <summary>Files, a row each.</summary>
    public static void Write(TextWriter output, IReadOnlyList<FileMeasurement> results, bool overTime)
    {
        TextTable table = new("file", "length", "rate Hz", "LUFS", "LRA LU", "max M LUFS", "max S LUFS", "dBTP", "peak dBFS", "PLR LU", "min PSR LU");
        foreach (FileMeasurement result in results)
        {
            table.Add(
                Path.GetFileName(result.Info.Path),
                Numbers.Length(result.Info.Seconds),
                result.Info.SampleRate.ToString(),
                Numbers.Text(result.Loudness.IntegratedLufs, 1),
                Numbers.Text(result.Loudness.LoudnessRangeLu, 1),
                Numbers.Text(result.Loudness.MaximumMomentaryLufs, 1),
                Numbers.Text(result.Loudness.MaximumShortTermLufs, 1),
                Numbers.Text(result.Loudness.TruePeakDbtp, 1),
                Numbers.Text(result.Loudness.SamplePeakDbfs, 1),
                Numbers.Text(result.Loudness.PeakToLoudnessLu ?? double.NaN, 1),
                Numbers.Text(result.Timeline.LowestPeakToShortTermLu, 1));
        }

        table.WriteTo(output);
        foreach (FileMeasurement result in results.Where(result => result.NotJudged is not null))
        {
            output.WriteLine($"{Path.GetFileName(result.Info.Path)}: {result.NotJudged}");
        }

        foreach (FileMeasurement result in overTime ? results : [])
        {
            WriteOverTime(output, Path.GetFileName(result.Info.Path), result.Timeline);
        }
    }

    /// <summary>Songs of an album, the album, and what stems bring.</summary>
    public static void Write(TextWriter output, AlbumMeasurement album, bool overTime)
    {
        TextTable table = new("song", "length", "LUFS", "LRA LU", "max S LUFS", "dBTP", "PLR LU", "min PSR LU");
        foreach (SongMeasurement song in album.Songs)
        {
            table.Add(
                song.Title,
                Numbers.Length(song.Seconds),
                Numbers.Text(song.Loudness.IntegratedLufs, 1),
                Numbers.Text(song.Loudness.LoudnessRangeLu, 1),
                Numbers.Text(song.Loudness.MaximumShortTermLufs, 1),
                Numbers.Text(song.Loudness.TruePeakDbtp, 1),
                Numbers.Text(song.Loudness.PeakToLoudnessLu ?? double.NaN, 1),
                Numbers.Text(song.Timeline.LowestPeakToShortTermLu, 1));
        }

        if (album.Songs.Count > 1)
        {
            table.Add(
                "(all in a row)",
                Numbers.Length(album.Songs.Sum(song => song.Seconds)),
                Numbers.Text(album.IntegratedLufs, 1),
                Numbers.Text(album.LoudnessRangeLu, 1),
                Numbers.Text(album.Songs.Max(song => song.Loudness.MaximumShortTermLufs), 1),
                Numbers.Text(album.TruePeakDbtp, 1),
                Numbers.Text(album.TruePeakDbtp - album.IntegratedLufs, 1),
                Numbers.Text(album.Songs.Where(song => song.NotJudged is null).Select(song => song.Timeline.LowestPeakToShortTermLu).DefaultIfEmpty(double.NaN).Min(), 1));
        }

        table.WriteTo(output);
        foreach (SongMeasurement song in album.Songs.Where(song => song.NotJudged is not null))
        {
            output.WriteLine($"{song.Title}: {song.NotJudged}");
        }

        foreach (SongMeasurement song in album.Songs)
        {
            output.WriteLine();
            output.WriteLine($"{song.Title}: what each stem brings to the song bus");
            TextTable stems = new("stem", "LUFS", "% of loudness", "% of peaks");
            foreach (StemShare stem in song.Stems)
            {
                stems.Add(stem.Name, Numbers.Text(stem.IntegratedLufs, 1), Numbers.Text(100 * stem.LoudnessShare, 1), Numbers.Text(100 * stem.PeakShare, 1));
            }

            stems.WriteTo(output);
            if (overTime)
            {
                WriteOverTime(output, song.Title, song.Timeline);
            }
        }
    }

    private static void WriteOverTime(TextWriter output, string name, LoudnessTimeline timeline)
    {
        output.WriteLine();
        output.WriteLine($"{name} over time");
        TextTable table = new("at", "M LUFS", "S LUFS", "dBTP", "PSR LU", "corr.");
        int step = Math.Max(timeline.Points.Count / RowsOverTime, 1);
        for (int i = step - 1; i < timeline.Points.Count; i += step)
        {
            TimelinePoint point = timeline.Points[i];
            table.Add(
                Numbers.Length(point.Seconds),
                Numbers.Text(point.MomentaryLufs, 1),
                Numbers.Text(point.ShortTermLufs, 1),
                Numbers.Text(point.TruePeakDbtp, 1),
                Numbers.Text(point.PeakToShortTermLu, 1),
                Numbers.Text(point.Correlation, 2));
        }

        table.WriteTo(output);
    }
}
