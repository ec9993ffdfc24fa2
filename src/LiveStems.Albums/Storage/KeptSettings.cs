using System.Collections.Immutable;
using System.Text.Json;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Storage;

/// <summary>
/// Settings of processors of others, which may be missing, older than the settings, or built anew with other parameters:
/// what is not understood is kept word for word, passed by and told, and understood once it can be.
/// </summary>
public static class KeptSettings
{
    private const string None = "{}";

    /// <summary>The slot with its kept settings read, where its processor is here and understands them; otherwise the slot as it is.</summary>
    public static ChainSlot Read(ChainSlot slot, ProcessorCatalogue catalogue) =>
        slot.RawParameters is not null && catalogue.Find(slot.Processor) is { } description && TryRead(slot, description, out var parameters) is null
            ? slot with { Parameters = parameters, RawParameters = null }
            : slot;

    /// <summary>The description of the slot's processor; null when it is not here, or does not understand the slot's settings.</summary>
    public static ProcessorDescription? DescriptionOf(ChainSlot slot, ProcessorCatalogue catalogue) =>
        Read(slot, catalogue).RawParameters is null ? catalogue.Find(slot.Processor) : null;

    /// <summary>Why the sound passes the slot by, to follow "the processor 'id'"; null when its processor is here and understands its settings.</summary>
    public static string? FaultOf(ChainSlot slot, ProcessorCatalogue catalogue) => catalogue.Find(slot.Processor) is not { } description
        ? $"is not here{(catalogue.Absent.TryGetValue(slot.Processor, out string? why) ? $" ({why})" : string.Empty)}"
        : slot.RawParameters is not null && TryRead(slot, description, out _) is { } fault ? $"cannot take its settings ({fault})"
        : null;

    /// <summary>One line for the listener.</summary>
    /// <param name="place">The stem, parallel or song bus.</param>
    /// <param name="processor">Id of the processor.</param>
    /// <param name="fault">What <see cref="FaultOf"/> says, or another reason to follow its name.</param>
    public static string Told(string place, string processor, string fault) => $"{place}: the processor '{processor}' {fault}; the sound passes it by, its settings stay";

    /// <summary>A slot as the file has it, with nothing of its settings read.</summary>
    internal static ChainSlot Keep(ChainSlot slot, string? text) => slot with { RawParameters = text ?? None };

    // What is wrong with the settings, or null.
    private static string? TryRead(ChainSlot slot, ProcessorDescription description, out ImmutableSortedDictionary<string, double> parameters)
    {
        using JsonDocument text = JsonDocument.Parse(slot.RawParameters!);
        AlbumFaults faults = new();
        parameters = SlotReader.Parameters(text.RootElement, FieldPath.Root, description, faults);
        if (slot.Version > description.Version)
        {
            return $"they were made with version {slot.Version}, and version {description.Version} is here";
        }

        string? wrong = faults.Count > 0 ? faults[0].ToString()
            : parameters.Select(pair => SlotRules.FaultOfValue(description.Parameters[description.IndexOf(pair.Key)], pair.Value) is { } fault ? $"{pair.Key}: {fault}" : null).FirstOrDefault(fault => fault is not null);
        return wrong is not null ? $"version {description.Version} of it does not understand them: {wrong}"
            : slot.KeyStem is not null && !description.ListensToKey ? $"version {description.Version} of it listens to no key"
            : null;
    }
}
