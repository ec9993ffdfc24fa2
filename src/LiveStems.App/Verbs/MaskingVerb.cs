using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Masking;
using LiveStems.App.Terminal;
using LiveStems.View.Pictures;

namespace LiveStems.App.Verbs;

/// <summary><c>masking</c>: which stem covers which, where and how often, before and after the corrections.</summary>
internal static class MaskingVerb
{
    private const int PairsShown = 10;

    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string?> song = CommonOptions.Song();
        Option<double> level = new("--level") { Description = "Listening level: dB SPL at which −20 dBFS RMS is heard, 40 to 100.", DefaultValueFactory = _ => 75 };
        Option<string?> picture = new("--picture") { Description = "Writes the map to a PNG file." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("masking", "Shows which stem covers which, at which frequencies and for what share of the time, before and after the corrections.")
        {
            album, song, level, picture, json,
        };
        verb.AddExamples(
            "livestems masking Album --song 1",
            "livestems masking Album --song \"Foghorn\" --picture masking.png");
        verb.SetAction(parsed =>
        {
            TextWriter output = parsed.InvocationConfiguration.Output;
            string path = parsed.GetRequiredValue(album);
            Album loaded = AlbumFile.Load(path, Processors.Catalogue);
            IReadOnlyList<int> songs = SongChoice.From(loaded, parsed.GetValue(song));
            double levelDb = parsed.GetValue(level);
            if (songs.Count != 1)
            {
                throw new UsageException($"--song is needed; there are {string.Join(", ", loaded.Songs.Select((each, index) => $"{index + 1} {each.Title}"))}");
            }

            if (levelDb is not (>= 40 and <= 100))
            {
                throw new UsageException($"--level goes from 40 to 100 dB SPL, not {levelDb}");
            }

            Song chosen = loaded.Songs[songs[0]];
            (MaskingMap before, MaskingMap after) = Both(chosen, AlbumFile.FolderOf(path), levelDb, interruption);
            if (parsed.GetValue(picture) is { } file)
            {
                MaskingPicture.Save(chosen.Title, before, after, file);
            }

            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, new JsonObject
                {
                    ["song"] = chosen.Title,
                    ["listeningLevelDbSpl"] = levelDb,
                    ["before"] = ToJson(before),
                    ["after"] = ToJson(after),
                });
            }
            else
            {
                Write(output, chosen.Title, before, after);
            }

            return 0;
        });
        return verb;
    }

    private static (MaskingMap Before, MaskingMap After) Both(Song song, string folder, double levelDb, CancellationToken interruption)
    {
        using ProgressLine line = new();
        MaskingMap Map(bool withCorrections, double from) => SongMasking.Of(
            song,
            folder,
            withCorrections,
            levelDb,
            Processors.Catalogue,
            new InlineProgress<double>(share => line.Report($"listening who covers whom in {song.Title}", from + share / 2)),
            interruption);
        return (Map(false, 0), Map(true, 0.5));
    }

    private static void Write(TextWriter output, string song, MaskingMap before, MaskingMap after)
    {
        output.WriteLine($"{song}: share of what each stem plays that the others cover");
        TextTable table = new("stem", "as delivered %", "corrected %", "mostly by");
        for (int stem = 0; stem < after.Stems.Length; stem++)
        {
            int most = Enumerable.Range(0, after.Stems.Length).MaxBy(by => after.PairShare[stem][by]);
            string by = after.PairShare[stem][most] > 0.01 ? $"{after.Stems[most]} ({Numbers.Text(after.PairShare[stem][most] * 100, 0)} %)" : "nobody";
            table.Add(after.Stems[stem], Numbers.Text(before.CoveredOf(stem) * 100, 0), Numbers.Text(after.CoveredOf(stem) * 100, 0), by);
        }

        table.WriteTo(output);
        output.WriteLine();
        output.WriteLine("The worst pairs, with the corrections in:");
        int place = 0;
        foreach (MaskingPair pair in after.Worst.Take(PairsShown))
        {
            output.WriteLine($"{++place,3}  {Words(pair, before)}");
        }

        if (place == 0)
        {
            output.WriteLine("     nobody covers anybody for long");
        }
    }

    private static string Words(MaskingPair pair, MaskingMap before)
    {
        int covered = before.Stems.IndexOf(pair.Covered);
        int by = before.Stems.IndexOf(pair.By);
        string when = pair.Ranges.Length == 0
            ? string.Empty
            : "; most at " + string.Join(", ", pair.Ranges.OrderByDescending(range => range.Seconds).Take(3).OrderBy(range => range.StartSeconds).Select(range => $"{Time(range.StartSeconds)}–{Time(range.EndSeconds)}"));
        return $"{pair.By} covers {pair.Covered} from {Hz(pair.LowHz)} to {Hz(pair.HighHz)}, {Numbers.Text(pair.ShareOfTime * 100, 0)} % of the time it sounds there{when}"
            + $" (all of it: {Numbers.Text(before.PairShare[covered][by] * 100, 0)} % as delivered)";
    }

    private static JsonObject ToJson(MaskingMap map) => new()
    {
        ["bandsHz"] = JsonOutput.Array(map.BandHz.Select(hz => Numbers.Json(hz, 1))),
        ["stems"] = JsonOutput.Array(map.Stems.Select((name, stem) => new JsonObject
        {
            ["stem"] = name,
            ["coveredPercent"] = Numbers.Json(map.CoveredOf(stem) * 100, 2),
            ["soundingPercentByBand"] = JsonOutput.Array(map.SoundingShare[stem].Select(share => Numbers.Json(share * 100, 1))),
            ["coveredPercentByBand"] = JsonOutput.Array(map.CoveredShare[stem].Select(share => Numbers.Json(share * 100, 1))),
        })),
        ["pairs"] = JsonOutput.Array(map.Worst.Select(pair => new JsonObject
        {
            ["covered"] = pair.Covered,
            ["by"] = pair.By,
            ["lowHz"] = Numbers.Json(pair.LowHz, 1),
            ["highHz"] = Numbers.Json(pair.HighHz, 1),
            ["sharePercent"] = Numbers.Json(pair.ShareOfTime * 100, 1),
            ["ranges"] = JsonOutput.Array(pair.Ranges.Select(range => new JsonObject
            {
                ["startSeconds"] = Numbers.Json(range.StartSeconds, 2),
                ["endSeconds"] = Numbers.Json(range.EndSeconds, 2),
            })),
        })),
    };

    private static string Hz(double hz) => Analysis.Trouble.FindingWords.Frequency(hz);

    private static string Time(double seconds) => string.Create(CultureInfo.InvariantCulture, $"{(int)seconds / 60}:{seconds % 60:00}");
}
