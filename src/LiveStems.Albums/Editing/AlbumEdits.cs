using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Albums.Editing;

/// <summary>Adds, removes and moves what an album holds, by address; each gives a new album and leaves the old one alone.</summary>
public static class AlbumEdits
{
    /// <summary>The album with a processor, every parameter at its default, at the end of a chain (<see cref="ChainEnd"/>) or at a place in it.</summary>
    /// <param name="album">The album.</param>
    /// <param name="chainAddress">A stem, a parallel or a song bus.</param>
    /// <param name="processor">Id of a processor of the catalogue.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <param name="position">Place in the chain from 1; null for the end.</param>
    /// <exception cref="AlbumException">There is no such chain, processor or place.</exception>
    public static Album AddProcessor(Album album, string chainAddress, string processor, ProcessorCatalogue catalogue, int? position = null)
    {
        AddressNode node = Node(album, chainAddress, catalogue);
        Place<Chain> chain = node.Chain ?? throw new AlbumException($"{node.Address} has no chain; processors go to a stem, a parallel or a song bus");
        ProcessorDescription description = catalogue.Find(processor)
            ?? throw new AlbumException($"there is no processor '{processor}'{NearMatch.Hint(processor, catalogue.Descriptions.Select(each => each.Id))}");
        int index = Index(node.Address, position ?? ChainEnd.Of(chain.Value, node.IsBus) + 1, chain.Value.Slots.Length + 1);
        ChainSlot slot = NewSlot.Of(description, chain.Value);
        return AlbumAddress.Checked(node.Address, () => chain.Put(chain.Value with { Slots = chain.Value.Slots.Insert(index, slot) }), catalogue);
    }

    /// <summary>The album with an empty parallel, fed by the end of a stem's chain, at the lowest blend: it is turned up from nothing.</summary>
    /// <exception cref="AlbumException">There is no such stem, or the stem has a parallel of that name.</exception>
    public static Album AddParallel(Album album, string stemAddress, string name, ProcessorCatalogue catalogue)
    {
        AddressNode node = Node(album, stemAddress, catalogue);
        Place<Stem> stem = node.Stem ?? throw new AlbumException($"{node.Address} is no stem; parallels belong to a stem");
        Parallel parallel = new(name.Trim(), true, AlbumFields.BlendDb.Spec.Minimum, false, Chain.Empty);
        return AlbumAddress.Checked(
            node.Address, () => stem.Put(stem.Value with { Parallels = stem.Value.Parallels.Add(parallel) }), catalogue);
    }

    /// <summary>The album with a note at the end of those of the album (empty address), a song or a stem.</summary>
    /// <exception cref="AlbumException">There is no such thing, or it takes no notes.</exception>
    public static Album AddNote(Album album, string address, Note note, ProcessorCatalogue catalogue)
    {
        AddressNode node = Node(album, address, catalogue);
        var notes = node.Notes ?? throw new AlbumException($"{node.Address} takes no notes; they belong to the album, a song or a stem");
        return AlbumAddress.Checked(node.Address, () => notes.Put(notes.Value.Add(note)), catalogue);
    }

    /// <summary>The album with a marker in a song.</summary>
    /// <param name="album">The album.</param>
    /// <param name="songAddress">The song.</param>
    /// <param name="name">Name of the marker; null or empty for "Marker 1", "Marker 2" and so on.</param>
    /// <param name="atSeconds">Seconds from the start of the song.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <exception cref="AlbumException">There is no such song, the name is taken, or the place is out of range.</exception>
    public static Album AddMarker(Album album, string songAddress, string? name, double atSeconds, ProcessorCatalogue catalogue)
    {
        AddressNode node = Node(album, songAddress, catalogue);
        var markers = node.Markers ?? throw new AlbumException($"{node.Address} takes no markers; they belong to a song");
        string given = string.IsNullOrWhiteSpace(name) ? FreeMarkerName(markers.Value) : name.Trim();
        return AlbumAddress.Checked(node.Address, () => markers.Put(markers.Value.Add(new Marker(given, atSeconds))), catalogue);
    }

    /// <summary>The album with a marker, written <c>Song/Name = seconds</c>.</summary>
    /// <exception cref="AlbumException">
    /// As <see cref="AddMarker(Album, string, string?, double, ProcessorCatalogue)"/>, or the text says no song, name and place.
    /// </exception>
    public static Album AddMarker(Album album, string assignment, ProcessorCatalogue catalogue)
    {
        (string address, string place) = AlbumAddress.SplitAssignment(assignment);
        int slash = address.IndexOf('/');
        if (slash < 0)
        {
            throw new AlbumException($"'{assignment}' names no marker; write Song/Name=seconds, such as \"Foghorn Waltz/Chorus=62.5\"");
        }

        return AlbumFields.AtSeconds.TryParse(place, out double seconds, out string fault)
            ? AddMarker(album, address[..slash], address[(slash + 1)..], seconds, catalogue)
            : throw new AlbumException($"{address}: {fault}");
    }

    /// <summary>The album without a processor, parallel, marker, stem or song; sound files stay where they are.</summary>
    /// <exception cref="AlbumException">There is no such thing, or another needs it as its key.</exception>
    public static Album Remove(Album album, string address, ProcessorCatalogue catalogue)
    {
        AddressNode node = Node(album, address, catalogue);
        Func<Album> remove = node.Remove ?? throw new AlbumException($"'{address.Trim()}' cannot be removed; processors, parallels, markers, stems and songs can");
        return AlbumAddress.Checked(node.Address, remove, catalogue);
    }

    /// <summary>A song without one of its stems; the sound file stays where it is.</summary>
    /// <param name="song">The song.</param>
    /// <param name="stem">Index of the stem.</param>
    /// <exception cref="AlbumException">A processor of another stem, or of the song bus, listens to it.</exception>
    public static Song WithoutStem(Song song, int stem) => StemKeys.UserOf(song, song.Stems[stem].Name) is { } user
        ? throw new AlbumException($"'{song.Stems[stem].Name}' is the key of {user}; give that another key first")
        : song with { Stems = song.Stems.RemoveAt(stem) };

    /// <summary>The album with a processor, parallel, stem or song at another place among its like.</summary>
    /// <param name="album">The album.</param>
    /// <param name="address">What moves.</param>
    /// <param name="position">The place it shall have, from 1.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <exception cref="AlbumException">There is no such thing or place.</exception>
    public static Album Move(Album album, string address, int position, ProcessorCatalogue catalogue)
    {
        AddressNode node = Node(album, address, catalogue);
        Func<int, Album> move = node.Move ?? throw new AlbumException($"'{address.Trim()}' cannot be moved; processors, parallels, stems and songs can");
        int index = Index(node.Address, position, node.Siblings);
        return AlbumAddress.Checked(node.Address, () => move(index), catalogue);
    }

    /// <summary>The album with a note, written <c>Song = text</c>, <c>Song@61.5 = text</c> or, for the album itself, <c>= text</c>.</summary>
    /// <exception cref="AlbumException">There is no such place, or the time is none.</exception>
    public static Album AddNote(Album album, string assignment, ProcessorCatalogue catalogue)
    {
        // The text may hold any '='; the place holds none.
        int equals = assignment.IndexOf('=', StringComparison.Ordinal);
        if (equals < 0)
        {
            throw new AlbumException($"'{assignment}' has no '='; write Song@SECONDS=text, such as \"Foghorn Waltz@61.5=softer here\"");
        }

        string address = assignment[..equals].Trim();
        string text = assignment[(equals + 1)..].Trim();
        int at = address.LastIndexOf('@');
        string seconds = at >= 0 ? address[(at + 1)..] : string.Empty;
        double? place = null;
        if (at >= 0)
        {
            place = AlbumFields.AtSeconds.TryParse(seconds, out double number, out string fault)
                ? number
                : throw new AlbumException($"'{assignment}': {fault}; write Song@SECONDS=text, such as \"Foghorn Waltz@61.5=softer here\"");
        }

        return AddNote(album, at >= 0 ? address[..at] : address, new Note(place, text), catalogue);
    }

    private static string FreeMarkerName(ImmutableArray<Marker> markers)
    {
        int number = 1;
        while (markers.Any(marker => marker.Name.Equals($"Marker {number}", StringComparison.OrdinalIgnoreCase)))
        {
            number++;
        }

        return $"Marker {number}";
    }

    internal static AddressNode Node(Album album, string address, ProcessorCatalogue catalogue)
    {
        (AddressNode node, string? field) = AddressWalk.Follow(new AlbumTree(catalogue).Root(album), address);
        return field is null ? node : throw new AlbumException($"'{address.Trim()}' ends in a value ('{field}'); leave it out");
    }

    private static int Index(string address, int position, int places) => position >= 1 && position <= places
        ? position - 1
        : throw new AlbumException($"{address}: there is no place {position}; places go from 1 to {places}");
}
