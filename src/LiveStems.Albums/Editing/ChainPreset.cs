using System.Collections.Immutable;
using System.Text.Json;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Editing;

/// <summary>A chain by purpose: processors with settings as people write them, ready to be added to any chain.</summary>
/// <param name="Name">Name, unique among presets.</param>
/// <param name="Role">The kind of stem it is for, in words.</param>
/// <param name="Purpose">What it is for.</param>
/// <param name="ListenFor">What to listen for when it is in.</param>
/// <param name="Steps">The processors in order.</param>
public sealed record ChainPreset(string Name, string Role, string Purpose, string ListenFor, ImmutableArray<ChainPreset.Step> Steps)
{
    private const int Schema = 1;

    /// <summary>One processor of a preset.</summary>
    /// <param name="Processor">Id of the processor.</param>
    /// <param name="Settings">Values with their units, by parameter id.</param>
    public sealed record Step(string Processor, ImmutableArray<KeyValuePair<string, string>> Settings)
    {
        /// <summary>Version of the processor that the settings were made with; null where the file does not say.</summary>
        public int? Version { get; init; }
    }

    /// <summary>Reads a preset file.</summary>
    /// <exception cref="AlbumException">It cannot be read, is no preset, or is of a newer schema.</exception>
    public static ChainPreset Load(string path)
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(path));
            JsonElement root = document.RootElement;
            int schema = root.GetProperty("schema").GetInt32();
            if (schema > Schema)
            {
                throw new AlbumException($"{path}: is a preset of schema {schema}; this program reads up to {Schema}: update it");
            }

            return new ChainPreset(
                Text(root, "name"),
                Text(root, "role"),
                Text(root, "purpose"),
                Text(root, "listenFor"),
                [.. root.GetProperty("chain").EnumerateArray().Select(ToStep)]);
        }
        catch (Exception fault) when (fault is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            throw new AlbumException($"{path}: is no preset: {fault.Message}", fault);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{path}: cannot be read: {fault.Message}", fault);
        }
    }

    /// <summary>What somebody who uses it should know: processors that are another version by now.</summary>
    public IEnumerable<string> Remarks(ProcessorCatalogue catalogue) =>
        from step in Steps
        let description = catalogue.Find(step.Processor)
        where description is not null && step.Version is not null && step.Version != description.Version
        select step.Version > description.Version
            ? $"the preset '{Name}' was made with version {step.Version} of {step.Processor}, which is newer than version {description.Version} here; it may sound different: get the newer {step.Processor}"
            : $"the preset '{Name}' was made with version {step.Version} of {step.Processor}; this is version {description.Version} and may sound different";

    /// <summary>
    /// The album with the preset's processors at the end of a chain; on a song bus before the limiter that ends it, unless the
    /// preset ends in one itself.
    /// </summary>
    /// <exception cref="AlbumException">There is no such chain, processor or parameter, or a value lies outside its range.</exception>
    public Album AddTo(Album album, string chainAddress, ProcessorCatalogue catalogue)
    {
        AddressNode node = AlbumEdits.Node(album, chainAddress, catalogue);
        int place = node.Chain is { } chain ? PlaceIn(chain.Value, node.IsBus) : 0;
        foreach (Step step in Steps)
        {
            if (catalogue.Find(step.Processor) is null && catalogue.Absent.TryGetValue(step.Processor, out string? why))
            {
                throw new AlbumException($"the preset '{Name}' needs the processor '{step.Processor}', which is not here ({why})");
            }

            album = AlbumEdits.AddProcessor(album, chainAddress, step.Processor, catalogue, place + 1);
            string slot = $"{chainAddress}/{AlbumEdits.Node(album, chainAddress, catalogue).Chain!.Value.Slots[place].Id}";
            place++;
            foreach ((string parameter, string value) in step.Settings)
            {
                album = Set(album, $"{slot}.{parameter}", value, step, catalogue);
            }

            album = AlbumAddress.Set(album, $"{slot}.reason", Purpose, catalogue);
        }

        return album;
    }

    private Album Set(Album album, string address, string value, Step step, ProcessorCatalogue catalogue)
    {
        try
        {
            return AlbumAddress.Set(album, address, value, catalogue);
        }
        catch (AlbumException fault) when (step.Version > catalogue.Find(step.Processor)!.Version)
        {
            throw new AlbumException(
                $"the preset '{Name}' was made with version {step.Version} of {step.Processor}, and version {catalogue.Find(step.Processor)!.Version} here does not understand it ({fault.Message}); get the newer {step.Processor}", fault);
        }
    }

    private int PlaceIn(Chain chain, bool isBus) => !Steps.IsEmpty && Steps[^1].Processor == ChainEnd.Limiter ? chain.Slots.Length : ChainEnd.Of(chain, isBus);

    private static Step ToStep(JsonElement step) => new(
        Text(step, "processor"),
        [.. step.GetProperty("settings").EnumerateObject().Select(setting => KeyValuePair.Create(setting.Name, setting.Value.GetString()!))])
    {
        Version = !step.TryGetProperty("version", out JsonElement version) ? null
            : version.ValueKind == JsonValueKind.Number && version.TryGetInt32(out int number) && number >= 1 ? number
            : throw new FormatException("'version' must be a whole number from 1"),
    };

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()
        ?? throw new FormatException($"'{name}' is empty");
}
