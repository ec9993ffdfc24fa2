using System.Globalization;
using System.Text.Json.Nodes;
using LiveStems.Analysis.Hearing;
using LiveStems.Analysis.Trouble;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>What <c>find</c> shows.</summary>
internal static class FindText
{
    private const int RangesShown = 4;

    public static void Write(TextWriter output, string song, double levelDb, List<NumberedFinding> findings, List<string> remarks)
    {
        output.WriteLine($"{song}: {findings.Count} findings; piercing at a listening level of {Numbers.Text(levelDb, 0)} dB SPL for −20 dBFS RMS");
        if (findings.Count > 0)
        {
            output.WriteLine();
            output.WriteLine("Too much: by surplus over the stem's own trend");
            Table(findings).WriteTo(output);
            output.WriteLine();
            output.WriteLine("Hurts: by piercing (equal loudness and sharpness)");
            TextTable piercing = new("rank", "number", "stem", "what", "centre", "piercing sone", "surplus dB");
            foreach (NumberedFinding each in findings.OrderBy(each => each.PiercingRank))
            {
                piercing.Add(
                    $"{each.PiercingRank}", $"{each.Number}", each.StemName, FindingWords.Kind(each.Finding.Kind), FindingWords.Frequency(each.Finding.CentreHz), Numbers.Text(each.Finding.PiercingSone, 2), Numbers.Text(each.Finding.SurplusDb, 1));
            }

            piercing.WriteTo(output);
            output.WriteLine();
            output.WriteLine("When, and what to start from");
            foreach (NumberedFinding each in findings)
            {
                Details(output, each);
            }
        }

        foreach (string remark in remarks)
        {
            output.WriteLine(remark);
        }
    }

    public static void WriteApplied(TextWriter output, string album, List<(NumberedFinding Finding, string Address)> applied, bool asJson)
    {
        if (asJson)
        {
            JsonOutput.Write(output, JsonOutput.Array(applied.Select(each => new JsonObject
            {
                ["number"] = each.Finding.Number,
                ["address"] = each.Address,
                ["processor"] = each.Finding.Finding.Correction.Processor,
                ["bypassed"] = true,
                ["suggested"] = true,
            })));
            return;
        }

        foreach ((NumberedFinding finding, string address) in applied)
        {
            output.WriteLine($"{address}: {FindingWords.Of(finding.Finding)}");
            output.WriteLine($"  {Settings(finding.Finding.Correction)}");
            output.WriteLine($"  bypassed; switch on   livestems set \"{album}\" \"{address}.bypassed=off\"");
            output.WriteLine($"  take back             livestems undo \"{album}\"");
        }
    }

    public static JsonObject ToJson(string song, double levelDb, List<NumberedFinding> findings, List<string> remarks) => new()
    {
        ["song"] = song,
        ["listeningLevelDbSpl"] = levelDb,
        ["findings"] = JsonOutput.Array(findings.Select(ToJson)),
        ["notJudged"] = JsonOutput.Array(remarks.Select(remark => JsonValue.Create(remark))),
    };

    private static JsonObject ToJson(NumberedFinding each)
    {
        TroubleFinding finding = each.Finding;
        JsonObject settings = [];
        foreach ((string id, string value) in finding.Correction.Settings)
        {
            settings[id] = value;
        }

        return new JsonObject
        {
            ["number"] = each.Number,
            ["piercingRank"] = each.PiercingRank,
            ["stem"] = each.StemName,
            ["kind"] = Word(finding.Kind.ToString()),
            ["occurrence"] = Word(finding.Occurrence.ToString()),
            ["frequencyHz"] = Numbers.Json(finding.CentreHz, 2),
            ["note"] = NoteName.Of(finding.CentreHz),
            ["widthOctaves"] = Numbers.Json(finding.WidthOctaves, 3),
            ["surplusDb"] = Numbers.Json(finding.SurplusDb, 2),
            ["piercingSone"] = Numbers.Json(finding.PiercingSone, 3),
            ["sharePercent"] = Numbers.Json(finding.ShareOfTime * 100, 1),
            ["headroomDb"] = Numbers.Json(finding.HeadroomDb, 2),
            ["ranges"] = JsonOutput.Array(finding.Ranges.Select(range => new JsonObject
            {
                ["startSeconds"] = Numbers.Json(range.StartSeconds, 2),
                ["endSeconds"] = Numbers.Json(range.EndSeconds, 2),
            })),
            ["correction"] = new JsonObject
            {
                ["processor"] = finding.Correction.Processor,
                ["settings"] = settings,
                ["words"] = finding.Correction.Words,
            },
            ["bandListen"] = new JsonObject
            {
                ["frequencyHz"] = Numbers.Json(finding.ListenCentreHz, 1),
                ["widthOctaves"] = Numbers.Json(finding.ListenWidthOctaves, 3),
            },
        };
    }

    private static TextTable Table(List<NumberedFinding> findings)
    {
        TextTable table = new("number", "stem", "what", "centre", "note", "width oct", "surplus dB", "time %", "when");
        foreach (NumberedFinding each in findings)
        {
            table.Add(
                $"{each.Number}",
                each.StemName,
                FindingWords.Kind(each.Finding.Kind),
                FindingWords.Frequency(each.Finding.CentreHz),
                NoteName.Of(each.Finding.CentreHz),
                Numbers.Text(each.Finding.WidthOctaves, 2),
                Numbers.Text(each.Finding.SurplusDb, 1),
                Numbers.Text(each.Finding.ShareOfTime * 100, 0),
                FindingWords.When(each.Finding.Occurrence));
        }

        return table;
    }

    private static void Details(TextWriter output, NumberedFinding each)
    {
        TroubleFinding finding = each.Finding;
        string ranges = string.Join(", ", finding.Ranges.Take(RangesShown).Select(range => $"{Time(range.StartSeconds)}–{Time(range.EndSeconds)}"));
        string more = finding.Ranges.Length > RangesShown ? $" and {finding.Ranges.Length - RangesShown} more" : string.Empty;
        output.WriteLine($"{each.Number,3}  {each.StemName}, {FindingWords.Kind(finding.Kind)}: {ranges}{more}");
        if (finding.HeadroomDb >= 0.05)
        {
            output.WriteLine($"     without it the stem's peak is {Numbers.Text(finding.HeadroomDb, 1)} dB lower");
        }

        output.WriteLine($"     {finding.Correction.Processor}: {finding.Correction.Words}");
        output.WriteLine($"     {Settings(finding.Correction)}");
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"     hear it: --solo \"{each.StemName}\" --band {finding.ListenCentreHz:0},{finding.ListenWidthOctaves:0.##}"));
    }

    private static string Settings(SuggestedCorrection correction) =>
        string.Join("; ", correction.Settings.Select(setting => $"{setting.Key}={setting.Value}"));

    private static string Time(double seconds) => string.Create(CultureInfo.InvariantCulture, $"{(int)seconds / 60}:{seconds % 60:00.0}");

    private static string Word(string name) => char.ToLowerInvariant(name[0]) + name[1..];
}
