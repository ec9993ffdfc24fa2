using System.Collections.Immutable;
using System.Text.Json;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Storage;

/// <summary>Writes a processor of a chain; its object has been started.</summary>
internal sealed class SlotWriter(Utf8JsonWriter json, ProcessorCatalogue catalogue)
{
    public void Write(ChainSlot slot)
    {
        json.WriteString("id", slot.Id);
        json.WriteString("processor", slot.Processor);
        json.WriteNumber("version", slot.Version);
        json.WriteBoolean("bypassed", slot.Bypassed);
        json.WriteNumber("mixPercent", slot.MixPercent);
        json.WriteString("scope", AlbumWords.Scope[slot.Scope]);
        if (slot.KeyStem is { } key)
        {
            json.WriteString("keyStem", key);
        }

        if (slot.OwnProcess)
        {
            json.WriteBoolean("ownProcess", true);
        }

        Parameters(slot);
        if (slot.Reason.Length > 0)
        {
            json.WriteString("reason", slot.Reason);
        }

        if (slot.Suggested)
        {
            json.WriteBoolean("suggested", true);
        }

        UnknownFieldsWriter.End(json, slot.Unknown);
    }

    private void Parameters(ChainSlot slot)
    {
        json.WritePropertyName("parameters");
        if (slot.RawParameters is { } raw)
        {
            json.WriteRawValue(raw);
            return;
        }

        json.WriteStartObject();
        if (catalogue.Find(slot.Processor) is { } description)
        {
            Known(slot.Parameters, description);
        }
        else
        {
            foreach ((string id, double value) in slot.Parameters)
            {
                json.WriteNumber(id, value);
            }
        }

        json.WriteEndObject();
    }

    // In the processor's own order, in which band 2 comes before band 10.
    private void Known(ImmutableSortedDictionary<string, double> parameters, ProcessorDescription description)
    {
        // Another build may have come while the album was open: what that one does not know stays a number.
        foreach ((string id, double value) in parameters)
        {
            if (description.IndexOf(id) < 0)
            {
                json.WriteNumber(id, value);
            }
        }

        foreach (ParameterSpec spec in description.Parameters)
        {
            if (parameters.TryGetValue(spec.Id, out double value))
            {
                Known(spec, value);
            }
        }
    }

    private void Known(ParameterSpec spec, double value)
    {
        switch (spec.Unit)
        {
            case ParameterUnit.Switch:
                json.WriteBoolean(spec.Id, value >= 0.5);
                break;
            case ParameterUnit.Choice when value >= 0 && value < spec.Choices.Count:
                json.WriteString(spec.Id, spec.Choices[(int)value]);
                break;
            default:
                json.WriteNumber(spec.Id, value);
                break;
        }
    }
}
