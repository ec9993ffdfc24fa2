using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>The options with which <c>render</c> makes a whole delivery, and its report.</summary>
internal sealed class DeliveryOptions
{
    private readonly Option<string[]> formats = new("--format")
    {
        Description = $"Forms of the masters, several allowed: {string.Join("; ", DeliveryFormat.All.Select(format => $"{format.Id} ({format.Purpose})"))}.",
        AllowMultipleArgumentsPerToken = true,
    };

    private readonly Option<string[]> alternates = new("--alternate")
    {
        Description = $"Other versions of every song, in the first form: {string.Join(", ", Alternate.Forms)}.",
        AllowMultipleArgumentsPerToken = true,
    };

    private readonly Option<bool> linked = new("--linked") { Description = "Alternates take the gain of the master's bus and limiter, so that versions can be cut together." };
    private readonly Option<bool> stems = new("--stems") { Description = "The treated stems too; their sum is the song bus input, and that is proven." };
    private readonly Option<bool> continuous = new("--continuous") { Description = "The album as one file too, with its gaps, cuts, fades and cross-fades, and a cue sheet." };
    private readonly Option<string> originator = new("--originator") { Description = "Who made the files, up to 32 characters.", DefaultValueFactory = _ => "LiveStems" };
    private readonly Option<string?> date = new("--date") { Description = "Date told in the files, as 2026-03-01; without it today, and for songs delivered before as they are now the date of then." };

    private readonly Option<string?> names = new("--name-pattern") { Description = $"How masters and alternates are called, without the ending, from words and fields: {string.Join(" ", NamePattern.FieldNames)}; without it \"{NamePattern.Usual}\"." };

    public DeliveryOptions()
    {
        formats.CompletionSources.Add([.. DeliveryFormat.All.Select(format => format.Id)]);
        alternates.CompletionSources.Add([.. Alternate.Forms]);
    }

    /// <summary>The options.</summary>
    public IEnumerable<Option> All => [formats, alternates, linked, stems, continuous, originator, date, names];

    /// <summary>True when a whole delivery is asked for.</summary>
    public bool AreUsed(ParseResult parsed) =>
        parsed.GetValue(formats) is { Length: > 0 } || parsed.GetValue(alternates) is { Length: > 0 } || parsed.GetValue(stems) || parsed.GetValue(continuous);

    /// <summary>Delivers and reports.</summary>
    public void Run(ParseResult parsed, Album album, string albumFolder, IReadOnlyList<int> songs, string root, int threads, bool asJson, CancellationToken interruption)
    {
        string[] ids = parsed.GetValue(formats) is { Length: > 0 } asked ? asked : ["archive"];
        DeliveryOrder order = new(
            songs,
            [.. ids.Distinct().Select(DeliveryFormat.Find)],
            [.. (parsed.GetValue(alternates) ?? []).Distinct().Select(Alternate.Parse)],
            parsed.GetValue(linked),
            parsed.GetValue(stems),
            DateOf(parsed.GetValue(date)),
            parsed.GetValue(originator)!) 
        {
            HasContinuous = parsed.GetValue(continuous),
            IsDateAsked = parsed.GetValue(date) is not null,
            Names = parsed.GetValue(names) is { } pattern ? NamePattern.Parse(pattern) : NamePattern.Usual,
        };
        DeliveryReport report;
        using (ProgressLine line = new())
        {
            InlineProgress<double> progress = new(share => line.Report("delivering", share));
            report = DeliveryRun.Deliver(album, albumFolder, Processors.Catalogue, order, root, threads, progress, interruption);
        }

        foreach (string remark in report.Remarks)
        {
            parsed.InvocationConfiguration.Error.WriteLine($"livestems: {remark}");
        }

        TextWriter output = parsed.InvocationConfiguration.Output;
        if (asJson)
        {
            output.WriteLine(File.ReadAllText(report.ManifestPath).TrimEnd());
            return;
        }

        Write(output, report);
    }

    private static void Write(TextWriter output, DeliveryReport report)
    {
        TextTable table = new("file", "length", "rate Hz", "bits", "LUFS", "LRA LU", "dBTP, 16 times", "");
        foreach (DeliveredFile file in report.Files)
        {
            table.Add(
                file.Name,
                Numbers.Length((double)file.Frames / file.SampleRate),
                file.SampleRate.ToString(CultureInfo.InvariantCulture),
                file.Bits.ToString(CultureInfo.InvariantCulture),
                Numbers.Text(file.Loudness.IntegratedLufs, 1),
                Numbers.Text(file.Loudness.LoudnessRangeLu, 1),
                Numbers.Text(file.PreciseTruePeakDbtp, 2),
                string.Join(", ", file.Notes));
        }

        table.WriteTo(output);
        foreach ((string song, double apart) in report.StemSumNullDbfs)
        {
            output.WriteLine($"{song}: the treated stems sum to the song bus input {(double.IsFinite(apart) ? $"within {Numbers.Text(apart, 0)} dBFS" : "exactly")}");
        }

        output.WriteLine($"{report.Files.Count} files read back and passed: {report.Folder}");
    }

    /// <summary>A day as it is written in commands; today for null.</summary>
    public static DateOnly DateOf(string? text) =>
        text is null ? DateOnly.FromDateTime(DateTime.Now)
        : DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly date) ? date
        : throw new UsageException($"--date is written as 2026-03-01, not '{text}'");
}
