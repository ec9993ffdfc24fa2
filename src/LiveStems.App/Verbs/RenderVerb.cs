using System.CommandLine;
using System.Runtime.CompilerServices;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Delivery;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Offline;

namespace LiveStems.App.Verbs;

/// <summary><c>render</c>: the masters.</summary>
internal static class RenderVerb
{
    private static readonly string[] Depths = ["16", "24", "32", "float"];

    /// <summary>
    /// Whether this is a render on several threads, as far as can be seen before the arguments are parsed, which takes a
    /// while; only time is lost where it is wrong.
    /// </summary>
    public static bool WillUseSeveralThreads(string[] arguments)
    {
        if (arguments is not ["render", ..] || Environment.ProcessorCount == 1)
        {
            return false;
        }

        int threads = Array.IndexOf(arguments, "--threads");
        return threads < 0 ? !Array.Exists(arguments, argument => argument is "--help" or "--threads=1" or "--threads:1") : threads + 1 < arguments.Length && arguments[threads + 1] != "1";
    }

    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> album = CommonOptions.Album();
        Option<string> to = new("--out") { Description = "The folder the masters go to; made when missing.", Required = true };
        Option<string?> song = CommonOptions.Song();
        Option<string> bits = new("--bits") { Description = "Bits of a sample: 16, 24, 32 or float.", DefaultValueFactory = _ => "24" };
        bits.CompletionSources.Add(Depths);
        Option<int?> rate = new("--rate") { Description = "Sample rate in Hz; without it each song's own." };
        Option<bool> replace = new("--replace") { Description = "Replace masters that stand in the folder already." };
        Option<int> threads = new("--threads") { Description = "Threads to work with; never changes the result.", DefaultValueFactory = _ => Environment.ProcessorCount };
        Option<bool> json = CommonOptions.Json();
        DeliveryOptions delivery = new();
        Command verb = new("render", "Renders the masters of an album or of one song, and measures them; with --format, --alternate, --stems or --continuous, makes a whole delivery into a numbered folder.")
        {
            album, to, song, bits, rate, replace, threads, json,
        };
        foreach (Option option in delivery.All)
        {
            verb.Add(option);
        }

        verb.AddExamples(
            "livestems render Album --out Masters",
            "livestems render Album --out Masters --song 2 --bits 16 --rate 44100 --replace",
            "livestems render Album --out Deliveries --format disc --continuous",
            "livestems render Album --out Deliveries --format disc --name-pattern \"{order} {title} {isrc} v{delivery}\"",
            "livestems render Album --out Deliveries --format archive disc --alternate instrumental vocal-up=1.5 --stems");
        verb.SetAction(parsed =>
        {
            int threadCount = parsed.GetValue(threads);
            if (threadCount is < 1 or > 256)
            {
                throw new UsageException($"--threads goes from 1 to 256, not {threadCount}");
            }

            if (RuntimeFeature.IsDynamicCodeSupported && threadCount > 1)
            {
                RenderWarmUp.Start();
            }

            string path = parsed.GetRequiredValue(album);
            Album loaded = AlbumFile.Load(path, Processors.Catalogue);
            IReadOnlyList<int> songs = SongChoice.From(loaded, parsed.GetValue(song));
            if (RuntimeFeature.IsDynamicCodeSupported && delivery.AreUsed(parsed))
            {
                delivery.Run(parsed, loaded, AlbumFile.FolderOf(path), songs, parsed.GetRequiredValue(to), threadCount, parsed.GetValue(json), interruption);
                return 0;
            }

            MasterFormat format = Format(parsed.GetRequiredValue(bits), parsed.GetValue(rate));
            RenderOptions how = RenderOptions.Default with { Threads = threadCount };
            IReadOnlyList<MasterReport> reports = RenderAll(
                loaded, AlbumFile.FolderOf(path), songs, format, how, parsed.GetRequiredValue(to), parsed.GetValue(replace), interruption);
            if (RuntimeFeature.IsDynamicCodeSupported)
            {
                FaultLog.Add(HostingPlaces.OfUser, reports.SelectMany(report => report.Outside), DateTimeOffset.Now);
            }

            Report(parsed.InvocationConfiguration.Output, loaded, reports, parsed.GetValue(json));
            return 0;
        });
        return verb;
    }

    /// <summary>Renders songs by their places in the album, one after the other, each on all cores.</summary>
    public static IReadOnlyList<MasterReport> RenderAll(
        Album album, string albumFolder, IReadOnlyList<int> songs, MasterFormat format, RenderOptions how, string folder, bool replace, CancellationToken interruption)
    {
        string[] paths = new string[songs.Count];
        for (int i = 0; i < paths.Length; i++)
        {
            paths[i] = Path.Combine(folder, $"{songs[i] + 1:00} {SafeFileName.From(album.Songs[songs[i]].Title)}.wav");
        }

        if (!replace && Array.Find(paths, File.Exists) is { } standing)
        {
            throw new UsageException($"{standing} stands there already; give another folder, or --replace to replace it");
        }

        Directory.CreateDirectory(folder);
        using ProgressLine line = new();
        List<MasterReport> reports = [];
        for (int i = 0; i < paths.Length; i++)
        {
            Song song = album.Songs[songs[i]];
            InlineProgress<double> progress = new(share => line.Report($"rendering {song.Title}", (reports.Count + share) / songs.Count));
            reports.Add(MasterRenderer.Render(song, albumFolder, Processors.Catalogue, format, how, paths[i], progress, interruption));
        }

        return reports;
    }

    /// <summary>Shows what was rendered, against the targets.</summary>
    public static void Report(TextWriter output, Album album, IReadOnlyList<MasterReport> reports, bool asJson)
    {
        if (asJson)
        {
            JsonOutput.Write(output, JsonOutput.Array(reports.Select(report => ToJson(album, report))));
            return;
        }

        TextTable table = new("song", "length", "LUFS", "target", "LRA LU", "dBTP", "ceiling", "file");
        foreach (MasterReport report in reports)
        {
            DeliveryTargets targets = TargetsOf(album, report);
            table.Add(
                report.Song,
                Numbers.Length(report.Seconds),
                Numbers.Text(report.Loudness.IntegratedLufs, 1),
                Numbers.Text(targets.IntegratedLufs ?? double.NaN, 1),
                Numbers.Text(report.Loudness.LoudnessRangeLu, 1),
                Numbers.Text(report.Loudness.TruePeakDbtp, 2),
                Numbers.Text(targets.CeilingDbtp, 2),
                report.Path);
        }

        table.WriteTo(output);
        foreach (MasterReport report in reports)
        {
            foreach (string remark in Remarks(album, report))
            {
                output.WriteLine($"{report.Song}: {remark}");
            }
        }
    }

    private static DeliveryTargets TargetsOf(Album album, MasterReport report) =>
        album.Songs.First(song => song.Title == report.Song).Targets ?? album.Targets;

    private static IEnumerable<string> Remarks(Album album, MasterReport report)
    {
        DeliveryTargets targets = TargetsOf(album, report);
        foreach (string remark in report.Remarks)
        {
            yield return remark;
        }

        if (report.Loudness.TruePeakDbtp > targets.CeilingDbtp)
        {
            yield return $"true peak {Numbers.Text(report.Loudness.TruePeakDbtp, 2)} dBTP lies above the ceiling of {Numbers.Text(targets.CeilingDbtp, 2)} dBTP";
        }

        if (targets.IntegratedLufs is { } wanted && Math.Abs(report.Loudness.IntegratedLufs - wanted) > 0.1)
        {
            yield return $"{Numbers.Text(report.Loudness.IntegratedLufs - wanted, 1)} LU from the target; 'livestems set ALBUM --to-target' sets the limiter's gain";
        }

        if (report.ClippedSamples > 0)
        {
            yield return $"{report.ClippedSamples} samples did not fit into the file and were cut";
        }
    }

    private static JsonObject ToJson(Album album, MasterReport report)
    {
        DeliveryTargets targets = TargetsOf(album, report);
        JsonObject json = new()
        {
            ["song"] = report.Song,
            ["file"] = report.Path,
            ["sampleRateHz"] = report.SampleRate,
            ["seconds"] = Numbers.Json(report.Seconds, 6),
            ["targetLufs"] = Numbers.Json(targets.IntegratedLufs ?? double.NaN, 3),
            ["ceilingDbtp"] = targets.CeilingDbtp,
            ["clippedSamples"] = report.ClippedSamples,
            ["remarks"] = JsonOutput.Array(Remarks(album, report).Select(remark => JsonValue.Create(remark))),
        };
        if (report.Outside.Count > 0)
        {
            json["outsideProcessors"] = JsonOutput.Array(report.Outside.Select(OutsideText.ToJson));
        }

        LoudnessText.AddTo(json, report.Loudness);
        return json;
    }

    private static MasterFormat Format(string bits, int? rate)
    {
        if (!Depths.Contains(bits))
        {
            throw new UsageException($"--bits is 16, 24, 32 or float, not '{bits}'");
        }

        if (rate is < 8_000 or > 384_000)
        {
            throw new UsageException($"--rate goes from 8000 to 384000 Hz, not {rate}");
        }

        return bits == "float" ? new MasterFormat(32, true, rate) : new MasterFormat(int.Parse(bits), false, rate);
    }
}
