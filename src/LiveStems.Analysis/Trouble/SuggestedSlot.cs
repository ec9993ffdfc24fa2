using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Trouble;

/// <summary>Puts a suggested correction into an album.</summary>
public static class SuggestedSlot
{
    /// <summary>
    /// The album with the correction at the end of a stem's chain: bypassed until someone switches it on, marked as suggested,
    /// with what was found as its reason.
    /// </summary>
    /// <param name="album">The album.</param>
    /// <param name="song">Place of the song.</param>
    /// <param name="stem">Place of the stem in it.</param>
    /// <param name="finding">What was found.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <returns>The changed album and the address of the new processor.</returns>
    /// <exception cref="AlbumException">There is no such place, or the catalogue has no such processor or value.</exception>
    public static (Album Album, string Address) Add(Album album, int song, int stem, TroubleFinding finding, ProcessorCatalogue catalogue)
    {
        ArgumentNullException.ThrowIfNull(album);
        ArgumentNullException.ThrowIfNull(finding);
        string chain = $"{song + 1}/{stem + 1}";
        album = AlbumEdits.AddProcessor(album, chain, finding.Correction.Processor, catalogue);
        ChainSlot added = album.Songs[song].Stems[stem].Chain.Slots[^1];
        string address = $"{chain}/{added.Id}";
        foreach ((string id, string value) in finding.Correction.Settings)
        {
            album = AlbumAddress.Set(album, $"{address}.{id}", value, catalogue);
        }

        Song changed = album.Songs[song];
        Chain whole = changed.Stems[stem].Chain;
        ChainSlot slot = whole.Slots[^1] with { Bypassed = true, Suggested = true, Reason = FindingWords.Of(finding) };
        Stem stemNow = changed.Stems[stem] with { Chain = whole with { Slots = whole.Slots.SetItem(whole.Slots.Length - 1, slot) } };
        changed = changed with { Stems = changed.Stems.SetItem(stem, stemNow) };
        return (album with { Songs = album.Songs.SetItem(song, changed) }, $"{changed.Title}/{stemNow.Name}/{slot.Id}");
    }
}
