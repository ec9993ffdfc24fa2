using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Headroom;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary><c>account</c>: what each correction buys at the limiter.</summary>
internal static class AccountVerb
{
    private const string Explanation =
        "bought: how much louder the song comes out with the correction in than with it out, for the same mean reduction of the limiter.\n"
        + "left out: everything in but this. alone: everything out but this. The lines need not add up, corrections share work.";

    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string?> song = CommonOptions.Song();
        Option<bool> wholly = new("--wholly") { Description = "Measure every line again, also those of stems that have not changed." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("account", "The headroom account: what every correction changes at the limiter, and how much louder it lets the song be.") { album, song, wholly, json };
        verb.AddExamples(
            "livestems account Album --song 1",
            "livestems account Album --song \"Foghorn Waltz\" --json");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            Album loaded = AlbumFile.Load(path, Processors.Catalogue);
            IReadOnlyList<int> songs = SongChoice.From(loaded, parsed.GetValue(song));
            List<HeadroomReport> reports = [];
            using (ProgressLine line = new())
            {
                foreach (int index in songs)
                {
                    Song each = loaded.Songs[index];
                    InlineProgress<double> progress = new(share => line.Report($"keeping account of {each.Title}", (reports.Count + share) / songs.Count));
                    reports.Add(HeadroomAccount.Measure(
                        each, AlbumFile.FolderOf(path), Processors.Catalogue, parsed.GetValue(wholly), Environment.ProcessorCount, progress, interruption));
                }
            }

            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, JsonOutput.Array(reports.Select(ToJson)));
            }
            else
            {
                reports.ForEach(report => Write(output, report));
                output.WriteLine(Explanation);
            }

            return 0;
        });
        return verb;
    }

    private static void Write(TextWriter output, HeadroomReport report)
    {
        output.WriteLine(report.Song);
        TextTable table = new("", "bought LU", "alone LU", "peak dBFS", "dBTP", "reduction mean dB", "largest", ">1 dB", ">3 dB", "LUFS");
        Add(table, "everything in", "", "", report.AllIn);
        Add(table, "every correction out", "", "", report.AllOut);
        foreach (HeadroomRow row in report.Rows)
        {
            bool isWhole = row.Subject.Kind is HeadroomSubjectKind.WholeStem;
            string words = $"{(isWhole ? "" : "  ")}{row.Subject.Words}{(isWhole ? ", everything" : "")} left out{(row.IsFromBefore ? " *" : "")}";
            Add(table, words, Signed(row.BoughtDb), Signed(row.BoughtAloneDb), row.LeftOut);
        }

        table.WriteTo(output);
        if (report.Rows.Any(row => row.IsFromBefore))
        {
            output.WriteLine("* measured before something else in the song changed; --wholly measures it again");
        }

        output.WriteLine();
    }

    private static void Add(TextTable table, string words, string bought, string alone, HeadroomFigures figures) => table.Add(
        words,
        bought,
        alone,
        Numbers.Text(figures.SamplePeakDbfs, 1),
        Numbers.Text(figures.TruePeakDbtp, 1),
        Numbers.Text(figures.MeanReductionDb, 2),
        Numbers.Text(figures.LargestReductionDb, 1),
        $"{Numbers.Text(figures.ShareAbove1Db * 100, 1)} %",
        $"{Numbers.Text(figures.ShareAbove3Db * 100, 1)} %",
        Numbers.Text(figures.IntegratedLufs, 2));

    private static string Signed(double value) => (value >= 0.005 ? "+" : "") + Numbers.Text(value, 2);

    private static JsonObject ToJson(HeadroomReport report) => new()
    {
        ["song"] = report.Song,
        ["everythingIn"] = ToJson(report.AllIn),
        ["everyCorrectionOut"] = ToJson(report.AllOut),
        ["lines"] = JsonOutput.Array(report.Rows.Select(row => new JsonObject
        {
            ["subject"] = row.Subject.Words,
            ["kind"] = char.ToLowerInvariant(row.Subject.Kind.ToString()[0]) + row.Subject.Kind.ToString()[1..],
            ["parallel"] = row.Subject.Parallel,
            ["slot"] = row.Subject.Slot,
            ["boughtLu"] = Numbers.Json(row.BoughtDb, 3),
            ["boughtAloneLu"] = Numbers.Json(row.BoughtAloneDb, 3),
            ["leftOut"] = ToJson(row.LeftOut),
            ["alone"] = ToJson(row.AddedIn),
            ["isFromBefore"] = row.IsFromBefore,
        })),
    };

    private static JsonObject ToJson(HeadroomFigures figures) => new()
    {
        ["samplePeakDbfs"] = Numbers.Json(figures.SamplePeakDbfs, 3),
        ["truePeakDbtp"] = Numbers.Json(figures.TruePeakDbtp, 3),
        ["meanReductionDb"] = Numbers.Json(figures.MeanReductionDb, 4),
        ["largestReductionDb"] = Numbers.Json(figures.LargestReductionDb, 3),
        ["shareAbove1Db"] = Numbers.Json(figures.ShareAbove1Db, 4),
        ["shareAbove3Db"] = Numbers.Json(figures.ShareAbove3Db, 4),
        ["integratedLufs"] = Numbers.Json(figures.IntegratedLufs, 3),
    };
}
