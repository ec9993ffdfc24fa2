using System.CommandLine;
using System.Runtime.CompilerServices;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Measuring;
using LiveStems.App.Terminal;
using LiveStems.View.Pictures;

namespace LiveStems.App.Verbs;

/// <summary><c>measure</c>: loudness, range and peaks of files, or of the songs of an album with what each stem brings.</summary>
internal static class MeasureVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string[]> files = new("file") { Description = "Sound files; or an album's folder, whose songs are rendered and measured.", Arity = ArgumentArity.OneOrMore };
        Option<string?> song = CommonOptions.Song();
        Option<bool> overTime = new("--over-time") { Description = "List loudness, peak-to-short-term ratio and correlation over time, too." };
        Option<string?> picture = CommonOptions.Picture();
        Option<bool> json = CommonOptions.Json();
        Command verb = new("measure", "Measures loudness (ITU-R BS.1770-5, EBU Tech 3341/3342), true peak and sample peak of files; of an album, each song over time, the album as a whole, and each stem's share of loudness and of peaks.")
        {
            files, song, overTime, picture, json,
        };
        verb.AddExamples(
            "livestems measure Masters/*.wav",
            "livestems measure \"01 Foghorn Waltz.wav\" --json",
            "livestems measure Album --song 2 --over-time --picture loudness.png");
        verb.SetAction(parsed =>
        {
            string[] paths = parsed.GetRequiredValue(files);
            TextWriter output = parsed.InvocationConfiguration.Output;
            bool asJson = parsed.GetValue(json), withTime = parsed.GetValue(overTime);
            if (paths is [var path] && File.Exists(AlbumFile.FileOf(path)) && (Directory.Exists(path) || path.EndsWith(".json", StringComparison.OrdinalIgnoreCase)))
            {
                AlbumMeasurement album = MeasureAlbum(path, parsed.GetValue(song), interruption);
                Save(parsed.GetValue(picture), () => LoudnessPicture.Of(album));
                if (asJson)
                {
                    JsonOutput.Write(output, MeasureJson.Of(album, withTime));
                }
                else
                {
                    MeasureText.Write(output, album, withTime);
                }

                return 0;
            }

            if (parsed.GetValue(song) is not null)
            {
                throw new UsageException("--song needs an album; name its folder alone");
            }

            List<FileMeasurement> results = MeasureAll(paths, interruption);
            Save(parsed.GetValue(picture), () => LoudnessPicture.Of(results));
            if (asJson)
            {
                JsonOutput.Write(output, JsonOutput.Array(results.Select(result => MeasureJson.Of(result, withTime))));
            }
            else
            {
                MeasureText.Write(output, results, withTime);
            }

            return 0;
        });
        return verb;
    }

    private static AlbumMeasurement MeasureAlbum(string path, string? song, CancellationToken interruption)
    {
        Album album = AlbumFile.Load(path, Processors.Catalogue);
        using ProgressLine line = new();
        return AlbumMeasurement.Measure(
            album, AlbumFile.FolderOf(path), SongChoice.From(album, song), Processors.Catalogue, (title, share) => line.Report($"measuring {title}", share), interruption);
    }

    private static void Save(string? path, Func<Picture> draw)
    {
        if (RuntimeFeature.IsDynamicCodeSupported && path is not null)
        {
            draw().Save(path);
        }
    }

    private static List<FileMeasurement> MeasureAll(string[] files, CancellationToken interruption)
    {
        using ProgressLine line = new();
        List<FileMeasurement> results = [];
        foreach (string file in files)
        {
            InlineProgress<double> progress = new(share => line.Report($"measuring {Path.GetFileName(file)}", (results.Count + share) / files.Length));
            results.Add(FileMeasurement.Measure(file, progress, interruption));
        }

        return results;
    }
}
