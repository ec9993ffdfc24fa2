using System.Collections.Immutable;
using System.Text.Json;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Storage;

/// <summary>Reads a processor of a chain; its parameters by the catalogue's word, or untouched when it has none.</summary>
internal sealed class SlotReader(ProcessorCatalogue catalogue)
{
    private static readonly ImmutableSortedDictionary<string, double> NoParameters =
        ImmutableSortedDictionary.Create<string, double>(StringComparer.Ordinal);

    public ChainSlot Read(ObjectReader fields)
    {
        string processor = fields.Text("processor");
        bool isOfOthers = catalogue.IsOfOthers(processor);
        ProcessorDescription? description = isOfOthers ? null : catalogue.Find(processor);
        ChainSlot slot = new(
            fields.Text("id", processor),
            processor,
            fields.WholeNumber("version", catalogue.Find(processor)?.Version ?? 1),
            fields.Switch("bypassed", false),
            fields.Number("mixPercent", AlbumFields.MixPercent.Spec.Default),
            fields.Word("scope", AlbumWords.Scope, StereoScope.Stereo),
            fields.OptionalText("keyStem"),
            description is not null && fields.TryTake("parameters", out JsonElement values)
                ? Parameters(values, fields.Path.Field("parameters"), description, fields.Faults)
                : NoParameters,
            fields.Text("reason", string.Empty))
        {
            Suggested = fields.Switch("suggested", false),
            OwnProcess = fields.Switch("ownProcess", false),
            RawParameters = description is null ? fields.Raw("parameters") : null,
            Unknown = fields.Rest(),
        };
        return isOfOthers ? KeptSettings.Read(KeptSettings.Keep(slot, slot.RawParameters), catalogue) : slot;
    }

    internal static ImmutableSortedDictionary<string, double> Parameters(JsonElement values, FieldPath path, ProcessorDescription description, AlbumFaults faults)
    {
        ImmutableSortedDictionary<string, double>.Builder parameters = NoParameters.ToBuilder();
        foreach (JsonProperty field in ObjectFields.Of(values, path, faults))
        {
            int index = description.IndexOf(field.Name);
            if (index < 0)
            {
                faults.Add(path.Field(field.Name), SlotRules.NoSuchParameter(description, field.Name));
                continue;
            }

            ParameterSpec spec = description.Parameters[index];
            if (TryValue(spec, field.Value, out double number))
            {
                parameters[spec.Id] = number;
            }
            else
            {
                faults.Add(path.Field(spec.Id), $"must be {Wanted(spec)}, not {JsonWords.Shown(field.Value)}");
            }
        }

        return parameters.ToImmutable();
    }

    private static bool TryValue(ParameterSpec spec, JsonElement value, out double number)
    {
        switch (spec.Unit)
        {
            case ParameterUnit.Switch:
                number = value.ValueKind == JsonValueKind.True ? 1 : 0;
                return value.ValueKind is JsonValueKind.True or JsonValueKind.False;
            case ParameterUnit.Choice:
                number = JsonWords.TryText(value) is { } word ? IndexOf(spec.Choices, word) : -1;
                return number >= 0;
            default:
                return JsonWords.TryNumber(value, out number);
        }
    }

    private static int IndexOf(IReadOnlyList<string> choices, string word)
    {
        int index = choices.Count - 1;
        while (index >= 0 && choices[index] != word)
        {
            index--;
        }

        return index;
    }

    private static string Wanted(ParameterSpec spec) => spec.Unit switch
    {
        ParameterUnit.Switch => "true or false",
        ParameterUnit.Choice => $"one of {string.Join(", ", spec.Choices)}",
        _ => "a number",
    };
}
