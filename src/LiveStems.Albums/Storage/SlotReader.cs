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
        ProcessorDescription? description = catalogue.Find(processor);
        return new ChainSlot(
            fields.Text("id", processor),
            processor,
            fields.WholeNumber("version", description?.Version ?? 1),
            fields.Switch("bypassed", false),
            fields.Number("mixPercent", AlbumFields.MixPercent.Spec.Default),
            fields.Word("scope", AlbumWords.Scope, StereoScope.Stereo),
            fields.OptionalText("keyStem"),
            description is null ? NoParameters : fields.Object("parameters", NoParameters, values => Parameters(values, description)),
            fields.Text("reason", string.Empty))
        {
            RawParameters = description is null ? fields.Raw("parameters") : null,
            Unknown = fields.Rest(),
        };
    }

    private static ImmutableSortedDictionary<string, double> Parameters(ObjectReader values, ProcessorDescription description)
    {
        ImmutableSortedDictionary<string, double>.Builder parameters = NoParameters.ToBuilder();
        foreach ((string id, JsonElement value) in values.Left)
        {
            int index = description.IndexOf(id);
            if (index < 0)
            {
                values.Faults.Add(values.Path.Field(id), SlotRules.NoSuchParameter(description, id));
            }
            else if (TryValue(description.Parameters[index], value, out double number))
            {
                parameters[id] = number;
            }
            else
            {
                values.Faults.Add(values.Path.Field(id), $"must be {Wanted(description.Parameters[index])}, not {JsonWords.Shown(value)}");
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
                number = JsonWords.TryText(value) is { } word ? spec.Choices.ToList().IndexOf(word) : -1;
                return number >= 0;
            default:
                return JsonWords.TryNumber(value, out number);
        }
    }

    private static string Wanted(ParameterSpec spec) => spec.Unit switch
    {
        ParameterUnit.Switch => "true or false",
        ParameterUnit.Choice => $"one of {string.Join(", ", spec.Choices)}",
        _ => "a number",
    };
}
