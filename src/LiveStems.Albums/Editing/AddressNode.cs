using System.Collections.Immutable;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.Editing;

/// <summary>Something in the album that has an address: the album, a song, a stem, a bus, a parallel, a processor, a marker.</summary>
internal sealed class AddressNode
{
    /// <summary>Address that leads here; empty for the album.</summary>
    public required string Address { get; init; }

    /// <summary>The record this is about; the same record means that nothing here or below differs.</summary>
    public required object Source { get; init; }

    /// <summary>Tells one that has been renamed, by what it is made of; empty when only the name tells.</summary>
    public string Identity { get; init; } = string.Empty;

    /// <summary>What the file says here that this program does not read.</summary>
    public string Kept { get; init; } = string.Empty;

    /// <summary>Makes the values here.</summary>
    public required Func<IReadOnlyList<AddressField>> MakeFields { private get; init; }

    /// <summary>Makes those of the values here that another of the same kind may not share; null where all are quickly made.</summary>
    public Func<AddressNode, IReadOnlyList<AddressField>>? MakeUnlike { private get; init; }

    /// <summary>The values here; made when they are asked for.</summary>
    public IReadOnlyList<AddressField> Fields => field ??= MakeFields();

    /// <summary>The values here without those that are surely the same in <paramref name="other"/>, which is asked likewise.</summary>
    public IReadOnlyList<AddressField> FieldsUnlike(AddressNode other) => MakeUnlike?.Invoke(other) ?? Fields;

    /// <summary>What lies below, by kind.</summary>
    public IReadOnlyList<AddressGroup> Groups { get; init; } = [];

    /// <summary>What a value here is called in messages.</summary>
    public string FieldKind { get; init; } = "field";

    /// <summary>Said when a value is looked for that cannot be known; empty otherwise.</summary>
    public string Unreadable { get; init; } = string.Empty;

    /// <summary>The chain here, where processors can be added.</summary>
    public Place<Chain>? Chain { get; init; }

    /// <summary>True for a song bus.</summary>
    public bool IsBus { get; init; }

    /// <summary>The stem here, where parallels can be added.</summary>
    public Place<Stem>? Stem { get; init; }

    /// <summary>The notes here.</summary>
    public Place<ImmutableArray<Note>>? Notes { get; init; }

    /// <summary>The answers to findings of the intake check here.</summary>
    public ImmutableArray<IntakeAnswer> Answers { get; init; } = [];

    /// <summary>The markers here.</summary>
    public Place<ImmutableArray<Marker>>? Markers { get; init; }

    /// <summary>The album without this.</summary>
    public Func<Album>? Remove { get; init; }

    /// <summary>The album with this at another index of its list.</summary>
    public Func<int, Album>? Move { get; init; }

    /// <summary>How many stand in the list this is one of.</summary>
    public int Siblings { get; init; }
}
