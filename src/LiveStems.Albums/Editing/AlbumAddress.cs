using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Editing;

/// <summary>
/// Reads and changes an album by text: <c>Foghorn Waltz/Bass/equaliser.band1.gainDb = −3 dB</c>.
/// </summary>
/// <remarks>
/// <para>
/// Names are parted by '/', the value stands behind a dot: <c>targets.integratedLufs</c>, <c>Song.targets.ceilingDbtp</c>,
/// <c>Song/Stem.gainDb</c>, <c>Song/Stem/compressor.key</c>, <c>Song/Stem/parallel:Crush.blendDb</c>,
/// <c>Song/Stem/parallel:Crush/compressor.ratio</c>, <c>Song/marker:Chorus.atSeconds</c>, <c>Song/bus/limiter.bypassed</c>.
/// </para>
/// <para>
/// Each name may be its number from 1 (<c>1/3.muted</c>) or a beginning that no other has, in letters of any case. A value
/// that is not there reads "none". Every change is checked by the rules of albums before it is returned.
/// </para>
/// </remarks>
public static class AlbumAddress
{
    /// <summary>The value at an address, as people write it.</summary>
    /// <exception cref="AlbumException">Nothing is there; the message says what is near.</exception>
    public static string Get(Album album, string address, ProcessorCatalogue catalogue)
    {
        (AddressNode node, string? name) = AddressWalk.Follow(new AlbumTree(catalogue).Root(album), address);
        return Field(node, name).Text;
    }

    /// <summary>Every value at and below an address, in the order of the album; an empty address is the whole album.</summary>
    /// <exception cref="AlbumException">Nothing is there.</exception>
    public static IEnumerable<AddressedValue> List(Album album, string address, ProcessorCatalogue catalogue)
    {
        (AddressNode node, string? name) = AddressWalk.Follow(new AlbumTree(catalogue).Root(album), address);
        return name is null ? Below(node) : [Valued(node, Field(node, name))];
    }

    /// <summary>The album with the value at an address changed.</summary>
    /// <exception cref="AlbumException">Nothing is there, the text is no value for it, or the change breaks a rule.</exception>
    public static Album Set(Album album, string address, string value, ProcessorCatalogue catalogue)
    {
        (AddressNode node, string? name) = AddressWalk.Follow(new AlbumTree(catalogue).Root(album), address);
        AddressField field = Field(node, name);
        if (field.Set is null)
        {
            throw new AlbumException($"{Valued(node, field).Address} can be read but not set");
        }

        return Checked(Valued(node, field).Address, () => field.Set(value), catalogue);
    }

    /// <summary>The album with an assignment done, written <c>address = value</c>.</summary>
    /// <exception cref="AlbumException">As <see cref="Set(Album, string, string, ProcessorCatalogue)"/>, or there is no '='.</exception>
    public static Album Set(Album album, string assignment, ProcessorCatalogue catalogue)
    {
        (string address, string value) = SplitAssignment(assignment);
        return Set(album, address, value, catalogue);
    }

    /// <summary>Parts <c>address = value</c>; an '=' with spaces around it goes before one without.</summary>
    /// <exception cref="AlbumException">There is no '='.</exception>
    public static (string Address, string Value) SplitAssignment(string assignment)
    {
        int spaced = assignment.IndexOf(" = ", StringComparison.Ordinal);
        int equals = spaced >= 0 ? spaced + 1 : assignment.IndexOf('=');
        return equals >= 0
            ? (assignment[..equals].Trim(), assignment[(equals + 1)..].Trim())
            : throw new AlbumException($"'{assignment}' has no '='; write address = value, such as Song/Bass.gainDb = -1.5 dB");
    }

    /// <summary>Index of the song that a title, number or beginning of a title means.</summary>
    /// <exception cref="AlbumException">None or several fit.</exception>
    public static int SongIndex(Album album, string song) =>
        NameSearch.Find("song", [.. album.Songs.Select(each => each.Title)], song.Trim());

    /// <summary>Index of the stem that a name, number or beginning of a name means.</summary>
    /// <exception cref="AlbumException">None or several fit.</exception>
    public static int StemIndex(Song song, string stem) =>
        NameSearch.Find("stem", [.. song.Stems.Select(each => each.Name)], stem.Trim());

    /// <summary>The result of a change when it keeps the rules.</summary>
    internal static Album Checked(string address, Func<Album> change, ProcessorCatalogue catalogue)
    {
        Album changed;
        try
        {
            changed = change();
        }
        catch (AlbumException fault)
        {
            throw new AlbumException(address.Length == 0 ? fault.Message : $"{address}: {fault.Message}", fault);
        }

        AlbumFaults faults = AlbumRules.Check(changed, catalogue);
        return faults.Count == 0 ? changed : throw new AlbumException($"{address}: {faults[0].Message}");
    }

    private static AddressField Field(AddressNode node, string? name)
    {
        if (name is null)
        {
            throw new AlbumException($"{node.Address} is not one value; write what of it behind a dot, such as {node.Address}.{node.Fields[^1].Name}");
        }

        return node.Fields.FirstOrDefault(field => Is(field.Name, name) || Is(field.Alias, name))
            ?? throw new AlbumException(
                $"{node.Address} has no {node.FieldKind} '{name}'{NearMatch.Hint(name, node.Fields.Select(field => field.Name))}{node.Unreadable}");

        static bool Is(string one, string other) => one.Equals(other, StringComparison.OrdinalIgnoreCase);
    }

    private static IEnumerable<AddressedValue> Below(AddressNode node)
    {
        IEnumerable<AddressNode> children = node.Groups.SelectMany(group => Enumerable.Range(0, group.Names.Count).Select(group.Open));
        return node.Fields.Select(field => Valued(node, field)).Concat(children.SelectMany(Below));
    }

    private static AddressedValue Valued(AddressNode node, AddressField field) =>
        new(node.Address.Length == 0 ? field.Name : $"{node.Address}.{field.Name}", field.Text, field.Set is not null);
}
