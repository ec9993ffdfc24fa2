using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Analysis.Measuring;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary><c>measure</c>: loudness, range and peaks of files.</summary>
internal static class MeasureVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string[]> files = new("file") { Description = "Sound files.", Arity = ArgumentArity.OneOrMore };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("measure", "Measures loudness (ITU-R BS.1770-5, EBU Tech 3341/3342), true peak and sample peak of files.") { files, json };
        verb.AddExamples(
            "livestems measure Masters/*.wav",
            "livestems measure \"01 Foghorn Waltz.wav\" --json");
        verb.SetAction(parsed =>
        {
            List<FileMeasurement> results = MeasureAll(parsed.GetRequiredValue(files), interruption);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(parsed.InvocationConfiguration.Output, JsonOutput.Array(results.Select(ToJson)));
            }
            else
            {
                Write(parsed.InvocationConfiguration.Output, results);
            }

            return 0;
        });
        return verb;
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

    private static JsonObject ToJson(FileMeasurement result)
    {
        JsonObject json = new()
        {
            ["file"] = result.Info.Path,
            ["container"] = result.Info.Container,
            ["bitsPerSample"] = result.Info.BitsPerSample,
            ["channels"] = result.Info.Channels,
            ["sampleRateHz"] = result.Info.SampleRate,
            ["seconds"] = Numbers.Json(result.Info.Seconds, 6),
        };
        LoudnessText.AddTo(json, result.Loudness);
        return json;
    }

    private static void Write(TextWriter output, List<FileMeasurement> results)
    {
        TextTable table = new("file", "length", "rate Hz", "LUFS", "LRA LU", "max M LUFS", "max S LUFS", "dBTP", "peak dBFS", "PLR LU");
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
                Numbers.Text(result.Loudness.PeakToLoudnessLu ?? double.NaN, 1));
        }

        table.WriteTo(output);
    }
}
