using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.App.Terminal;
using LiveStems.Engine.Hosting;

namespace LiveStems.App.Verbs;

/// <summary><c>presets</c>: chains by purpose.</summary>
internal static class PresetsVerb
{
    /// <summary>The verb.</summary>
    public static Command Create()
    {
        Option<bool> json = CommonOptions.Json();
        Command verb = new("presets", "Lists chains by purpose, those beside outside processors with them; 'set --preset' adds one to a chain.") { json };
        verb.AddExamples("livestems presets", "livestems set Album --preset \"1/Bass=bass-pick-softer\"");
        verb.SetAction(parsed =>
        {
            (string File, ChainPreset Preset)[] presets = [.. Loaded(parsed.InvocationConfiguration.Error).Select(entry => (Path.GetFileNameWithoutExtension(entry.Path), entry.Preset))];
            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, JsonOutput.Array(presets.Select(entry => new JsonObject
                {
                    ["preset"] = entry.File,
                    ["name"] = entry.Preset.Name,
                    ["role"] = entry.Preset.Role,
                    ["purpose"] = entry.Preset.Purpose,
                    ["listenFor"] = entry.Preset.ListenFor,
                    ["processors"] = JsonOutput.Array(entry.Preset.Steps.Select(step => JsonValue.Create(step.Processor))),
                    ["versions"] = JsonOutput.Array(entry.Preset.Steps.Select(step => JsonValue.Create(step.Version))),
                })));
                return;
            }

            TextTable table = new("preset", "for", "what it does", "listen for");
            foreach ((string file, ChainPreset preset) in presets)
            {
                table.Add(file, preset.Role, preset.Purpose, preset.ListenFor);
            }

            table.WriteTo(output);
            foreach (string remark in presets.SelectMany(entry => entry.Preset.Remarks(Processors.Catalogue)))
            {
                output.WriteLine(remark);
            }
        });
        return verb;
    }

    /// <summary>A preset by its file's name, or by a path.</summary>
    public static ChainPreset Find(string nameOrPath)
    {
        string? own = PresetFiles.All(HostingPlaces.OfUser).FirstOrDefault(path => Path.GetFileNameWithoutExtension(path) == nameOrPath);
        return own is not null ? ChainPreset.Load(own)
            : File.Exists(nameOrPath) ? ChainPreset.Load(nameOrPath)
            : throw new UsageException($"no preset '{nameOrPath}'; 'livestems presets' lists them, or give the path of a file");
    }

    // A damaged file beside an outside processor is told and hides none of the others.
    private static IEnumerable<(string Path, ChainPreset Preset)> Loaded(TextWriter errors)
    {
        HashSet<string> outside = [.. PresetFiles.Outside(HostingPlaces.OfUser)];
        foreach (string path in PresetFiles.All(HostingPlaces.OfUser))
        {
            ChainPreset? preset = null;
            try
            {
                preset = ChainPreset.Load(path);
            }
            catch (AlbumException fault) when (outside.Contains(path))
            {
                errors.WriteLine($"livestems: {fault.Message.ReplaceLineEndings(" ")}");
            }

            if (preset is not null)
            {
                yield return (path, preset);
            }
        }
    }
}
