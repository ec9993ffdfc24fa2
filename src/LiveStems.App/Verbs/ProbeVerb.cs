using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Probe;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.View.Pictures;

namespace LiveStems.App.Verbs;

/// <summary><c>probe</c>: what a processor does, measured.</summary>
internal static class ProbeVerb
{
    private static readonly TimeSpan ProbePatience = TimeSpan.FromSeconds(60);

    // Called off, it ends with its next tone.
    private static readonly TimeSpan EndPatience = TimeSpan.FromSeconds(1);

    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string> id = new("processor") { Description = "A processor's id.", Arity = ArgumentArity.ZeroOrOne };
        id.CompletionSources.Add(_ => Processors.Catalogue.Descriptions.Select(description => new System.CommandLine.Completions.CompletionItem(description.Id)));
        Option<string[]> set = new("--set") { Description = "A parameter as name=value, as often as wanted.", AllowMultipleArgumentsPerToken = true };
        Option<int> rate = new("--rate") { Description = "Sample rate in Hz.", DefaultValueFactory = _ => 48_000 };
        Option<double> level = new("--level") { Description = "Peak level of the response's tones in dBFS.", DefaultValueFactory = _ => -20 };
        Option<string?> album = new("--album") { Description = "Probe a chain of this album; --at says which." };
        Option<string?> at = new("--at") { Description = "The chain: Song/Stem, Song/bus, or Song/Stem/parallel:Name for a parallel summed with its stem." };
        Option<string?> picture = new("--picture") { Description = "Draw the findings into a PNG file." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("probe", "Shows what a processor or a chain does: response, phase, delay, level curve, harmonics, gain over a step, noise, latency, cost. Without a name, lists the processors.")
        {
            id, set, rate, level, album, at, picture, json,
        };
        verb.AddExamples(
            "livestems probe",
            "livestems probe equaliser --set band2.on=on --set band2.shape=bell --set \"band2.frequencyHz=2.5 kHz\" --set \"band2.gainDb=-3 dB\"",
            "livestems probe compressor --set thresholdDb=-30 --set ratio=4:1 --json",
            "livestems probe --album Album --at \"1/Lead voice\" --picture voice.png");
        verb.SetAction(parsed =>
        {
            TextWriter output = parsed.InvocationConfiguration.Output;
            string? name = parsed.GetValue(id);
            (string? albumPath, string? place) = (parsed.GetValue(album), parsed.GetValue(at));
            if (name is null && albumPath is null && place is null)
            {
                List(output, parsed.GetValue(json));
                return 0;
            }

            if (name is null ? albumPath is null || place is null : albumPath is not null || place is not null)
            {
                throw new UsageException("probe takes a processor's id, or --album with --at for a chain");
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

            Processor? processor = name is null ? null : Configure(name, parsed.GetValue(set) ?? []);
            (IProbed probed, string words) = processor is null
                ? ChainPlace.Find(AlbumFile.Load(albumPath!, Processors.Catalogue), place!)
                : (new ProbedProcessor(processor), processor.Description.Name);
            ProbeReport report = Measure(
                () =>
                {
                    // Whoever measures lets go: what does not come to an end is still in use when nobody waits for it any more.
                    using IDisposable? letGo = probed as IDisposable;
                    return new ProcessorProbe(probed, sampleRate).Measure(levelDbfs, interruption);
                },
                name,
                interruption);
            if (parsed.GetValue(picture) is { } file)
            {
                ProbePicture.Draw(words, report).Save(file);
            }

            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, ToJson(processor, words, report));
            }
            else
            {
                Write(output, processor, words, report);
            }

            return 0;
        });
        return verb;
    }

    // A processor of others may never return, or throw what it likes: the command returns, with one line.
    private static ProbeReport Measure(Func<ProbeReport> measure, string? name, CancellationToken interruption)
    {
        if (name is null || BuiltInProcessors.Catalogue.Find(name) is not null)
        {
            return measure();
        }

        TaskCompletionSource over = new();
        try
        {
            return Bounded.Run(MeasureToTheEnd, ProbePatience, $"it does not come to an end within {ProbePatience.TotalSeconds:0} s", interruption);
        }
        catch (OperationCanceledException)
        {
            over.Task.Wait(EndPatience, CancellationToken.None);
            throw;
        }
        catch (Exception fault) when (fault is not OperationCanceledException)
        {
            throw new HostingException($"{name}: {(fault is HostingException ? fault.Message : $"it throws {fault.GetType().Name}, {fault.Message}")}; nothing was measured", fault);
        }

        ProbeReport MeasureToTheEnd()
        {
            try
            {
                return measure();
            }
            finally
            {
                over.SetResult();
            }
        }
    }

    private static Processor Configure(string name, string[] settings)
    {
        Processor processor = Processors.Catalogue.Create(name)
            ?? throw new UsageException($"no processor '{name}'; there are {string.Join(", ", Processors.Catalogue.Descriptions.Select(each => each.Id))}");
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
            JsonOutput.Write(output, JsonOutput.Array(Processors.Catalogue.Descriptions.Select(Describe)));
            return;
        }

        TextTable table = new("processor", "name", "purpose");
        foreach (ProcessorDescription description in Processors.Catalogue.Descriptions)
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

    private static JsonObject ToJson(Processor? processor, string words, ProbeReport report)
    {
        JsonObject result = processor is null ? new JsonObject { ["chain"] = words } : Describe(processor.Description);
        if (processor is not null)
        {
            JsonObject settings = [];
            for (int i = 0; i < processor.Description.Parameters.Count; i++)
            {
                settings[processor.Description.Parameters[i].Id] = processor.GetParameter(i);
            }

            result["settings"] = settings;
        }

        ProbeText.AddTo(result, report);
        return result;
    }

    private static void Write(TextWriter output, Processor? processor, string words, ProbeReport report)
    {
        output.WriteLine(processor is null ? words : $"{words}: {processor.Description.Purpose}");
        output.WriteLine($"at {report.SampleRate} Hz, latency {report.LatencyFrames} samples ({1000.0 * report.LatencyFrames / report.SampleRate:0.##} ms)");
        output.WriteLine();
        if (processor is not null)
        {
            TextTable table = new("parameter", "value", "range", "what it does");
            for (int i = 0; i < processor.Description.Parameters.Count; i++)
            {
                ParameterSpec spec = processor.Description.Parameters[i];
                table.Add(spec.Id, ParameterText.Format(spec, processor.GetParameter(i)), ParameterText.FormatRange(spec), spec.Description);
            }

            table.WriteTo(output);
            output.WriteLine();
        }

        ProbeText.Write(output, report);
    }
}
