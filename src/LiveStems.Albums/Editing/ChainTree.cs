using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Albums.Editing;

/// <summary>Chains and their processors as parts of the tree of addresses.</summary>
internal sealed class ChainTree(ProcessorCatalogue catalogue)
{
    public static AddressField Bypass(string name, Place<Chain> chain) =>
        FieldMaker.Switch(name, chain.Value.Bypassed, value => chain.Put(chain.Value with { Bypassed = value }));

    public AddressGroup Slots(Place<Chain> chain, Song song, string address)
    {
        Place<ImmutableArray<ChainSlot>> slots = chain.Part(value => value.Slots, (value, list) => value with { Slots = list });
        return new AddressGroup("processor", string.Empty, [.. slots.Value.Select(slot => slot.Id)], index => Node(slots, index, song, address));
    }

    private AddressNode Node(Place<ImmutableArray<ChainSlot>> slots, int index, Song song, string chainAddress)
    {
        Place<ChainSlot> place = slots.Item(index);
        ChainSlot slot = KeptSettings.Read(place.Value, catalogue);
        ProcessorDescription? description = KeptSettings.DescriptionOf(slot, catalogue);
        return new AddressNode
        {
            Address = $"{chainAddress}/{slot.Id}",
            Source = place.Value,
            Kept = KeptText.Of([], slot.Unknown) + slot.RawParameters,
            FieldKind = "parameter",
            Unreadable = description is null ? $"; '{slot.Processor}' {KeptSettings.FaultOf(slot, catalogue)}, so its parameters are kept but cannot be read" : string.Empty,
            MakeFields = () => AllFields(place, slot, song, description, description?.Parameters ?? []),
            MakeUnlike = other => AllFields(place, slot, song, description, Unlike(slot, description, other)),
            Remove = () => slots.Without(index),
            Move = to => slots.Moved(index, to),
            Siblings = slots.Value.Length,
        };
    }

    private List<AddressField> AllFields(Place<ChainSlot> place, ChainSlot slot, Song song, ProcessorDescription? description, IEnumerable<ParameterSpec> parameters)
    {
        List<AddressField> own = SlotFields(place, slot, song, description);
        return [.. own, .. ParameterFields(place, slot, description, own, parameters)];
    }

    // A processor may have a hundred parameters, of which a step of a drag moves one.
    private IEnumerable<ParameterSpec> Unlike(ChainSlot slot, ProcessorDescription? description, AddressNode other)
    {
        IReadOnlyList<ParameterSpec> all = description?.Parameters ?? [];
        if (other.Source is not ChainSlot beside || beside.Processor != slot.Processor)
        {
            return all;
        }

        ChainSlot read = KeptSettings.Read(beside, catalogue);
        return ReferenceEquals(KeptSettings.DescriptionOf(read, catalogue), description)
            ? all.Where(spec => !ValueOf(slot, spec).Equals(ValueOf(read, spec)))
            : all;
    }

    private static double ValueOf(ChainSlot slot, ParameterSpec spec) => slot.Parameters.GetValueOrDefault(spec.Id, spec.Default);

    private List<AddressField> SlotFields(Place<ChainSlot> place, ChainSlot slot, Song song, ProcessorDescription? description)
    {
        List<AddressField> fields =
        [
            FieldMaker.ReadOnly("processor", slot.Processor),
            FieldMaker.ReadOnly("version", $"{slot.Version}"),
            FieldMaker.Switch("bypassed", slot.Bypassed, value => place.Put(slot with { Bypassed = value })),
            FieldMaker.Number(AlbumFields.MixPercent, slot.MixPercent, value => place.Put(slot with { MixPercent = value })),
            FieldMaker.Word("scope", AlbumWords.Scope, slot.Scope, value => place.Put(slot with { Scope = value })),
            FieldMaker.Text("reason", slot.Reason, value => place.Put(slot with { Reason = value })) with { Initial = (string.Empty, string.Empty) },
        ];
        if (slot.Suggested)
        {
            fields.Add(FieldMaker.Switch("suggested", true, value => place.Put(slot with { Suggested = value })));
        }

        // Only code of others has to be kept apart.
        if (slot.OwnProcess || description is null || catalogue.CanRunApart(slot.Processor))
        {
            fields.Add(FieldMaker.Switch("ownProcess", slot.OwnProcess, value => place.Put(slot with { OwnProcess = value })));
        }

        if (description is null or { ListensToKey: true })
        {
            fields.Add(new AddressField("key", slot.KeyStem ?? FieldMaker.None, text => place.Put(slot with { KeyStem = Key(song, text) })) { Alias = "keyStem", Initial = (FieldMaker.None, FieldMaker.None) });
        }

        return fields;
    }

    private static string? Key(Song song, string text) =>
        FieldMaker.IsNone(text) ? null : song.Stems[NameSearch.Find("stem", [.. song.Stems.Select(stem => stem.Name)], text.Trim())].Name;

    private static IEnumerable<AddressField> ParameterFields(
        Place<ChainSlot> place, ChainSlot slot, ProcessorDescription? description, List<AddressField> own, IEnumerable<ParameterSpec> parameters)
    {
        foreach (ParameterSpec spec in parameters)
        {
            // A processor may call a parameter of its own what every processor has, such as its mix.
            string name = own.Any(field => field.Name == spec.Id) ? $"parameters.{spec.Id}" : spec.Id;
            yield return FieldMaker.Parameter(
                name,
                spec,
                ValueOf(slot, spec),
                value => place.Put(slot with { Parameters = slot.Parameters.SetItem(spec.Id, value) })) with { SaidWords = BandWords.Of(slot, description!, spec) };
        }
    }
}
