using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Analysis.Probe;
using LiveStems.App.Terminal;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.View.Plots;

namespace LiveStems.App.Verbs;

/// <summary><c>probe</c>: what a processor does, measured.</summary>
internal static class ProbeVerb
{
    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> id = new("processor") { Description = "A processor's id.", Arity = ArgumentArity.ZeroOrOne };
        id.CompletionSources.Add(_ => BuiltInProcessors.Catalogue.Descriptions.Select(description => new System.CommandLine.Completions.CompletionItem(description.Id)));
        Option<string[]> set = new("--set") { Description = "A parameter as name=value, as often as wanted.", AllowMultipleArgumentsPerToken = true };
        Option<int> rate = new("--rate") { Description = "Sample rate in Hz.", DefaultValueFactory = _ => 48_000 };
        Option<double> level = new("--level") { Description = "Peak level of the response's tones in dBFS.", DefaultValueFactory = _ => -20 };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("probe", "Shows what a processor does: parameters, measured response, level curve, latency. Without a name, lists the processors.")
        {
            id, set, rate, level, json,
        };
        verb.AddExamples(
            "livestems probe",
            "livestems probe equaliser --set band2.on=on --set band2.shape=bell --set \"band2.frequencyHz=2.5 kHz\" --set \"band2.gainDb=-3 dB\"",
            "livestems probe compressor --set thresholdDb=-30 --set ratio=4:1 --json");
        verb.SetAction(parsed =>
        {
            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(id) is not { } name)
            {
                List(output, parsed.GetValue(json));
                return 0;
            }

            int sampleRate = parsed.GetValue(rate);
            double levelDbfs = parsed.GetValue(level);
            if (sampleRate is < 8_000 or > 384_000)
            {
                throw new UsageException($"--rate goes from 8000 to 384000 Hz, not {sampleRate}");
            }

            if (levelDbfs is not (>= -120 and <= 24))
            {
                throw new UsageException($"--level goes from −120 to 24 dBFS, not {levelDbfs}");
            }

            Processor processor = Configure(name, parsed.GetValue(set) ?? []);
            ProbeReport report = new ProcessorProbe(processor, sampleRate).Measure(levelDbfs, interruption);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, ToJson(processor, report));
            }
            else
            {
                Write(output, processor, report);
            }

            return 0;
        });
        return verb;
    }

    private static Processor Configure(string name, string[] settings)
    {
        Processor processor = BuiltInProcessors.Catalogue.Create(name)
            ?? throw new UsageException($"no processor '{name}'; there are {string.Join(", ", BuiltInProcessors.Catalogue.Descriptions.Select(each => each.Id))}");
        foreach (string setting in settings)
        {
            int equals = setting.IndexOf('=');
            string parameter = equals < 0 ? setting : setting[..equals].Trim();
            int index = processor.Description.IndexOf(parameter);
            if (equals < 0 || index < 0)
            {
                throw new UsageException(equals < 0
                    ? $"--set takes name=value, not '{setting}'"
                    : $"{name} has no parameter '{parameter}'; 'livestems probe {name}' lists them");
            }

            if (!ParameterText.TryParse(processor.Description.Parameters[index], setting[(equals + 1)..], out double value, out string fault))
            {
                throw new UsageException(fault);
            }

            processor.SetParameter(index, value);
        }

        return processor;
    }

    private static void List(TextWriter output, bool asJson)
    {
        if (asJson)
        {
            JsonOutput.Write(output, JsonOutput.Array(BuiltInProcessors.Catalogue.Descriptions.Select(Describe)));
            return;
        }

        TextTable table = new("processor", "name", "purpose");
        foreach (ProcessorDescription description in BuiltInProcessors.Catalogue.Descriptions)
        {
            table.Add(description.Id, description.Name, description.Purpose);
        }

        table.WriteTo(output);
    }

    private static JsonObject Describe(ProcessorDescription description) => new()
    {
        ["processor"] = description.Id,
        ["name"] = description.Name,
        ["version"] = description.Version,
        ["purpose"] = description.Purpose,
        ["parameters"] = JsonOutput.Array(description.Parameters.Select(spec => new JsonObject
        {
            ["id"] = spec.Id,
            ["name"] = spec.Name,
            ["unit"] = spec.Unit.ToString(),
            ["minimum"] = spec.Minimum,
            ["maximum"] = spec.Maximum,
            ["default"] = spec.Default,
            ["choices"] = JsonOutput.Array(spec.Choices.Select(choice => JsonValue.Create(choice))),
            ["description"] = spec.Description,
        })),
    };

    private static JsonObject ToJson(Processor processor, ProbeReport report)
    {
        JsonObject result = Describe(processor.Description);
        JsonObject settings = [];
        for (int i = 0; i < processor.Description.Parameters.Count; i++)
        {
            settings[processor.Description.Parameters[i].Id] = processor.GetParameter(i);
        }

        result["settings"] = settings;
        result["sampleRateHz"] = report.SampleRate;
        result["latencyFrames"] = report.LatencyFrames;
        result["responseLevelDbfs"] = report.ResponseLevelDbfs;
        result["response"] = JsonOutput.Array(report.Response.Select(point => new JsonObject
        {
            ["frequencyHz"] = point.FrequencyHz,
            ["gainDb"] = Numbers.Json(point.GainDb, 4),
            ["phaseDegrees"] = Numbers.Json(point.PhaseDegrees, 3),
        }));
        result["levelFrequencyHz"] = report.LevelFrequencyHz;
        result["levels"] = JsonOutput.Array(report.Levels.Select(point => new JsonObject
        {
            ["inputDbfs"] = point.InputDbfs,
            ["outputDbfs"] = Numbers.Json(point.OutputDbfs, 4),
        }));
        return result;
    }

    private static void Write(TextWriter output, Processor processor, ProbeReport report)
    {
        ProcessorDescription description = processor.Description;
        output.WriteLine($"{description.Name}: {description.Purpose}");
        output.WriteLine($"at {report.SampleRate} Hz, latency {report.LatencyFrames} samples ({1000.0 * report.LatencyFrames / report.SampleRate:0.##} ms)");
        output.WriteLine();
        TextTable table = new("parameter", "value", "range", "what it does");
        for (int i = 0; i < description.Parameters.Count; i++)
        {
            ParameterSpec spec = description.Parameters[i];
            table.Add(spec.Id, ParameterText.Format(spec, processor.GetParameter(i)), ParameterText.FormatRange(spec), spec.Description);
        }

        table.WriteTo(output);
        output.WriteLine();
        output.WriteLine($"Gain in dB over frequency, tones of {Numbers.Text(report.ResponseLevelDbfs, 0)} dBFS");
        output.Write(TerminalPlot.Response([.. report.Response.Select(point => (point.FrequencyHz, point.GainDb))]));
        output.WriteLine();
        output.WriteLine($"Output in dBFS over input, tone of {report.LevelFrequencyHz:0} Hz");
        output.Write(TerminalPlot.Levels([.. report.Levels.Select(point => (point.InputDbfs, point.OutputDbfs))]));
    }
}
