using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Balance;
using LiveStems.App.Terminal;
using LiveStems.View.Pictures;

namespace LiveStems.App.Verbs;

/// <summary><c>album</c>: the songs held against each other.</summary>
internal static class AlbumVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string?> picture = CommonOptions.Picture();
        Option<bool> json = CommonOptions.Json();
        Command verb = new("album", "Holds the songs of an album against each other: loudness, range, peak-to-loudness ratio, tilt, lows, mids and highs against the album's middle, and what to change.")
        {
            album, picture, json,
        };
        verb.AddExamples(
            "livestems album Album",
            "livestems album Album --picture balance.png",
            "livestems album Album --json");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            Album loaded = AlbumFile.Load(path, Processors.Catalogue);
            AlbumBalance balance = Measure(loaded, path, interruption);
            if (parsed.GetValue(picture) is { } file)
            {
                AlbumPicture.Of(loaded.Title, balance).Save(file);
            }

            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, ToJson(loaded, balance));
            }
            else
            {
                Write(output, loaded, balance);
            }

            return 0;
        });
        return verb;
    }

    /// <summary>Measures every song, with progress.</summary>
    public static AlbumBalance Measure(Album album, string path, CancellationToken interruption)
    {
        using ProgressLine line = new();
        return AlbumBalance.Measure(
            album, AlbumFile.FolderOf(path), SongChoice.From(album, null), Processors.Catalogue, Environment.ProcessorCount, share => line.Report("measuring the songs", share), interruption);
    }

    private static void Write(TextWriter output, Album album, AlbumBalance balance)
    {
        output.WriteLine($"{album.Title} · {album.Artist}: distance from the album's middle in brackets; lows to 250 Hz, highs from 4 kHz, at equal loudness");
        TextTable table = new("no", "song", "length", "LUFS", "LRA LU", "PLR LU", "tilt dB/oct", "lows dB", "mids dB", "highs dB");
        foreach ((SongFigures song, int index) in balance.Songs.Select((song, index) => (song, index)))
        {
            table.Add(
                (index + 1).ToString(),
                song.Title,
                Numbers.Length(song.Seconds),
                Against(each => each.Loudness.IntegratedLufs),
                Against(each => each.Loudness.LoudnessRangeLu),
                Against(each => each.PeakToLoudnessLu),
                Against(each => each.TiltDbPerOctave),
                Against(each => each.LowsDb),
                Against(each => each.MidsDb),
                Against(each => each.HighsDb));

            string Against(Func<SongFigures, double> figure)
            {
                double distance = figure(song) - balance.Median(figure);
                return $"{Numbers.Text(figure(song), 1)} ({(distance >= 0.05 ? "+" : "")}{Numbers.Text(distance, 1)})";
            }
        }

        table.WriteTo(output);
        foreach ((SongFigures song, int index) in balance.Songs.Select((song, index) => (song, index)))
        {
            foreach (string advice in Advice(album, balance, index))
            {
                output.WriteLine($"{song.Title}: {advice}");
            }
        }
    }

    private static IReadOnlyList<string> Advice(Album album, AlbumBalance balance, int index) =>
        BalanceAdvice.For(balance, balance.Songs[index], album.Songs[index].Targets ?? album.Targets);

    private static JsonObject ToJson(Album album, AlbumBalance balance) => new()
    {
        ["album"] = album.Title,
        ["median"] = Figures(figure => balance.Median(figure)),
        ["songs"] = JsonOutput.Array(balance.Songs.Select((song, index) =>
        {
            JsonObject json = new() { ["song"] = song.Title, ["seconds"] = Numbers.Json(song.Seconds, 3) };
            LoudnessText.AddTo(json, song.Loudness);
            json["balance"] = Figures(figure => figure(song));
            json["againstMedian"] = Figures(figure => figure(song) - balance.Median(figure));
            json["advice"] = JsonOutput.Array(Advice(album, balance, index).Select(words => JsonValue.Create(words)));
            return json;
        })),
    };

    private static JsonObject Figures(Func<Func<SongFigures, double>, double> read) => new()
    {
        ["integratedLufs"] = Numbers.Json(read(song => song.Loudness.IntegratedLufs), 3),
        ["loudnessRangeLu"] = Numbers.Json(read(song => song.Loudness.LoudnessRangeLu), 3),
        ["peakToLoudnessLu"] = Numbers.Json(read(song => song.PeakToLoudnessLu), 3),
        ["tiltDbPerOctave"] = Numbers.Json(read(song => song.TiltDbPerOctave), 3),
        ["lowsDb"] = Numbers.Json(read(song => song.LowsDb), 3),
        ["midsDb"] = Numbers.Json(read(song => song.MidsDb), 3),
        ["highsDb"] = Numbers.Json(read(song => song.HighsDb), 3),
    };
}
