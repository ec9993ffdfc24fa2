using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Comparing;
using LiveStems.App.Terminal;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Comparing;

namespace LiveStems.App.Verbs;

/// <summary><c>compare</c>: with against without, or one thing against another, measured and equally loud.</summary>
internal static class CompareVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string?> song = CommonOptions.Song();
        Option<string?> of = new("--of") { Description = "What is compared: stems, bus, rough, STEM, STEM/chain, STEM/PROCESSOR, STEM/parallel:NAME, bus/PROCESSOR." };
        Option<bool> alone = new("--alone") { Description = "By itself instead of inside the whole song." };
        Option<string?> file = new("--file") { Description = "The song against a finished file." };
        Option<double> offset = new("--offset") { Description = "Seconds by which that file starts after the song; negative starts inside it." };
        Option<string?> version = new("--against") { Description = "The song against the same song in a version of the album, by name or by the path of its file; see 'livestems versions'." };
        Option<double> from = new("--from") { Description = "Start of the stretch that counts, in seconds." };
        Option<double?> to = new("--to") { Description = "Its end, in seconds; without it the end of the song." };
        Option<string?> folder = new("--out") { Description = "A folder for in.wav and out.wav, equally loud, and difference.wav." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("compare", "Compares fairly: loudness of both sides, the gain that makes them equal, and what differs.")
        {
            album, song, of, alone, file, offset, version, from, to, folder, json,
        };
        verb.AddExamples(
            "livestems compare Album --song 1 --of \"Lead voice/de-esser\" --alone",
            "livestems compare Album --song 1 --of bus --out Listen",
            "livestems compare Album --song 1 --of rough",
            "livestems compare Album --song 1 --against \"first listen\"");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            Album loaded = AlbumFile.Load(path, Processors.Catalogue);
            Song chosen = loaded.Songs[SongChoice.From(loaded, parsed.GetValue(song) ?? "1")[0]];
            if (parsed.GetValue(from) < 0 || parsed.GetValue(to) <= parsed.GetValue(from))
            {
                throw new UsageException("--from and --to are seconds from the start of the song, the end after the start");
            }

            if (new[] { parsed.GetValue(of), parsed.GetValue(file), parsed.GetValue(version) }.Count(each => each is not null) > 1)
            {
                throw new UsageException("--of, --file and --against are three comparisons; give one of them");
            }

            CompareScope scope = parsed.GetValue(version) is { } name
                ? Version(loaded, chosen, name, path)
                : Scope(chosen, parsed.GetValue(of), parsed.GetValue(file), parsed.GetValue(offset), AlbumFile.FolderOf(path));
            using ProgressLine line = new();
            ComparisonReport report = ComparisonMeasurement.Measure(
                new Comparison(scope, !parsed.GetValue(alone)),
                chosen,
                AlbumFile.FolderOf(path),
                Processors.Catalogue,
                parsed.GetValue(from),
                parsed.GetValue(to),
                parsed.GetValue(folder),
                new InlineProgress<double>(share => line.Report($"comparing in {chosen.Title}", share)),
                interruption);
            line.Dispose();
            Show(parsed.InvocationConfiguration.Output, chosen, report, parsed.GetValue(folder), parsed.GetValue(json));
            return 0;
        });
        return verb;
    }

    /// <summary>The song against itself in a version of its album.</summary>
    /// <exception cref="ComparisonException">The version has no such song.</exception>
    public static VersionScope Version(Album now, Song song, string name, string albumFolder)
    {
        AlbumVersion version = AlbumVersions.Find(now, name, albumFolder, Processors.Catalogue);
        Song? same = AlbumVersions.WithPresentFiles(version.Album, now).Songs.FirstOrDefault(each => each.Title == song.Title);
        return same is null
            ? throw new ComparisonException($"'{name}' is a version of another album, or from before this song was in it: it has no song '{song.Title}'")
            : new VersionScope(same, version.Name);
    }

    private static CompareScope Scope(Song song, string? of, string? file, double offset, string albumFolder)
    {
        if (file is null)
        {
            return ScopeText.Parse(song, of ?? "stems");
        }

        int rate = song.SampleRate ?? RateOf(song, albumFolder);
        return new FileScope(new ComparedFile(Path.GetFullPath(file), (int)Math.Round(offset * rate)), Path.GetFileName(file));
    }

    private static int RateOf(Song song, string albumFolder)
    {
        using Engine.Streaming.SongSources sources = Engine.Streaming.SongSources.Open(song, albumFolder, Engine.Planning.PlanOptions.Offline);
        return sources.SampleRate;
    }

    private static void Show(TextWriter output, Song song, ComparisonReport report, string? folder, bool asJson)
    {
        if (asJson)
        {
            JsonOutput.Write(output, ToJson(song, report));
            return;
        }

        output.WriteLine($"{song.Title}: {report.Words}, {Numbers.Text(report.FromSeconds, 1)} to {Numbers.Text(report.FromSeconds + report.Seconds, 1)} s");
        TextTable table = new("", "LUFS", "dBTP", "PLR LU", "fair gain dB");
        Add(table, "in", report.In, report.Fair.InDb);
        Add(table, "out", report.Out, report.Fair.OutDb);
        table.WriteTo(output);
        output.WriteLine($"out is {Signed(report.Fair.DifferenceLu, 2)} LU against in");
        output.WriteLine(double.IsFinite(report.DifferenceDbfs)
            ? $"difference {Numbers.Text(report.DifferenceDbfs, 1)} dBFS, peak {Numbers.Text(report.DifferencePeakDbfs, 1)} dBFS; {Numbers.Text(report.FairDifferenceDbfs, 1)} dBFS once equally loud"
            : "no difference: both sides are the same to the bit");
        output.WriteLine();
        TextTable bands = new("band Hz", "in dBFS", "out dBFS", "difference dBFS", "change, equally loud dB");
        foreach (ComparedBand band in report.Bands)
        {
            bands.Add(
                Numbers.Text(band.Band.NominalHz, band.Band.NominalHz < 100 ? 1 : 0),
                Numbers.Text(band.InDbfs, 1),
                Numbers.Text(band.OutDbfs, 1),
                Numbers.Text(band.DifferenceDbfs, 1),
                Signed(band.FairChangeDb, 1));
        }

        bands.WriteTo(output);
        if (folder is not null)
        {
            output.WriteLine($"{Path.Combine(folder, "in.wav")}, out.wav: equally loud; difference.wav: out minus in");
        }
    }

    private static void Add(TextTable table, string name, LoudnessReport loudness, double gain) => table.Add(
        name,
        Numbers.Text(loudness.IntegratedLufs, 2),
        Numbers.Text(loudness.TruePeakDbtp, 2),
        Numbers.Text(loudness.PeakToLoudnessLu ?? double.NaN, 1),
        Numbers.Text(gain, 2));

    private static string Signed(double value, int decimals) => (value > 0 ? "+" : "") + Numbers.Text(value, decimals);

    private static JsonObject ToJson(Song song, ComparisonReport report)
    {
        JsonObject inSide = [];
        JsonObject outSide = [];
        LoudnessText.AddTo(inSide, report.In);
        LoudnessText.AddTo(outSide, report.Out);
        inSide["fairGainDb"] = Numbers.Json(report.Fair.InDb, 3);
        outSide["fairGainDb"] = Numbers.Json(report.Fair.OutDb, 3);
        return new JsonObject
        {
            ["song"] = song.Title,
            ["compared"] = report.Words,
            ["sampleRateHz"] = report.SampleRate,
            ["startSeconds"] = Numbers.Json(report.FromSeconds, 3),
            ["seconds"] = Numbers.Json(report.Seconds, 3),
            ["in"] = inSide,
            ["out"] = outSide,
            ["outAgainstInLu"] = Numbers.Json(report.Fair.DifferenceLu, 3),
            ["differenceDbfs"] = Numbers.Json(report.DifferenceDbfs, 2),
            ["differencePeakDbfs"] = Numbers.Json(report.DifferencePeakDbfs, 2),
            ["fairDifferenceDbfs"] = Numbers.Json(report.FairDifferenceDbfs, 2),
            ["bands"] = JsonOutput.Array(report.Bands.Select(band => new JsonObject
            {
                ["frequencyHz"] = band.Band.NominalHz,
                ["inDbfs"] = Numbers.Json(band.InDbfs, 2),
                ["outDbfs"] = Numbers.Json(band.OutDbfs, 2),
                ["differenceDbfs"] = Numbers.Json(band.DifferenceDbfs, 2),
                ["fairChangeDb"] = Numbers.Json(band.FairChangeDb, 2),
            })),
        };
    }
}
