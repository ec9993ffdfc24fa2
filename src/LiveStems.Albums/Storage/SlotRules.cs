using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Storage;

/// <summary>What must hold for a processor in a chain.</summary>
internal sealed class SlotRules(ProcessorCatalogue catalogue, AlbumFaults faults)
{
    public static string NoSuchParameter(ProcessorDescription description, string id) =>
        $"{description.Id} has no such parameter{NearMatch.Hint(id, description.Parameters.Select(spec => spec.Id))}";

    public void Check(FieldPath path, ChainSlot slot, HashSet<string> stemNames)
    {
        Report(path, "id", NameRules.FaultOfId(slot.Id));
        Report(path, "processor", NameRules.FaultOfName(slot.Processor));
        Report(path, "reason", NameRules.FaultOfText(slot.Reason));
        faults.AddRange(path, AlbumFields.MixPercent, slot.MixPercent);
        if (slot.Version < 1)
        {
            faults.Add(path.Field("version"), $"must be a whole number from 1, not {NumberText.Of(slot.Version)}");
        }

        if (slot.KeyStem is { } key && !stemNames.Contains(key))
        {
            faults.Add(path.Field("keyStem"), $"the song has no stem '{key}'{NearMatch.Hint(key, stemNames)}");
        }

        if (slot.RawParameters is not null)
        {
            return;
        }

        // A processor of others may be built anew while the album is open: that is no reason to refuse every change.
        if (catalogue.Find(slot.Processor) is { } description && !catalogue.IsOfOthers(slot.Processor))
        {
            Known(path, slot, description);
        }
        else
        {
            foreach ((string id, double value) in slot.Parameters)
            {
                ReportParameter(path, id, double.IsFinite(value) ? NameRules.FaultOfText(id) : "must be a number");
            }
        }
    }

    private void Known(FieldPath path, ChainSlot slot, ProcessorDescription description)
    {
        if (slot.Version > description.Version)
        {
            faults.Add(
                path.Field("version"),
                $"the settings were made with version {slot.Version} of {description.Id} and this program has {description.Version}; use a newer one");
        }

        if (slot.KeyStem is not null && !description.ListensToKey)
        {
            faults.Add(path.Field("keyStem"), $"{description.Id} listens to no key; remove it");
        }

        foreach ((string id, double value) in slot.Parameters)
        {
            int index = description.IndexOf(id);
            ReportParameter(
                path,
                id,
                index < 0 ? NoSuchParameter(description, id) : FaultOfValue(description.Parameters[index], value));
        }
    }

    internal static string? FaultOfValue(ParameterSpec spec, double value)
    {
        if (!(value >= spec.Minimum && value <= spec.Maximum))
        {
            return $"{NumberText.Of(value)} lies outside {ParameterText.FormatRange(spec)}";
        }

        return spec.Taper == Taper.Stepped && value != Math.Floor(value) ? $"{NumberText.Of(value)} must be a whole number" : null;
    }

    private void Report(FieldPath path, string field, string? fault)
    {
        if (fault is not null)
        {
            faults.Add(path.Field(field), fault);
        }
    }

    private void ReportParameter(FieldPath path, string id, string? fault)
    {
        if (fault is not null)
        {
            faults.Add(path.Field("parameters").Field(id), fault);
        }
    }
}
