using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Editing;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary><c>presets</c>: chains by purpose.</summary>
internal static class PresetsVerb
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "presets");

    /// <summary>The verb.</summary>
    public static Command Create()
    {
        Option<bool> json = CommonOptions.Json();
        Command verb = new("presets", "Lists chains by purpose; 'set --preset' adds one to a chain.") { json };
        verb.AddExamples("livestems presets", "livestems set Album --preset \"1/Bass=bass-pick-softer\"");
        verb.SetAction(parsed =>
        {
            (string File, ChainPreset Preset)[] presets = [.. All().Select(path => (Path.GetFileNameWithoutExtension(path), ChainPreset.Load(path)))];
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
                })));
                return;
            }

            TextTable table = new("preset", "for", "what it does", "listen for");
            foreach ((string file, ChainPreset preset) in presets)
            {
                table.Add(file, preset.Role, preset.Purpose, preset.ListenFor);
            }

            table.WriteTo(output);
        });
        return verb;
    }

    /// <summary>A preset by its file's name, or by a path.</summary>
    public static ChainPreset Find(string nameOrPath)
    {
        string own = Path.Combine(Folder, nameOrPath + ".json");
        return File.Exists(own) ? ChainPreset.Load(own)
            : File.Exists(nameOrPath) ? ChainPreset.Load(nameOrPath)
            : throw new UsageException($"no preset '{nameOrPath}'; 'livestems presets' lists them, or give the path of a file");
    }

    private static IEnumerable<string> All() => Directory.Exists(Folder)
        ? Directory.EnumerateFiles(Folder, "*.json").Order(StringComparer.Ordinal)
        : [];
}
