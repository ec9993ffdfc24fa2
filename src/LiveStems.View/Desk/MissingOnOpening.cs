using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;

namespace LiveStems.View.Desk;

/// <summary>
/// Processors that are not here are told for the whole album when it is opened; these are the lines in which the player
/// would tell them again, song by song.
/// </summary>
internal static class MissingOnOpening
{
    /// <summary>A line for each place of the album.</summary>
    public static IEnumerable<string> Lines(Album album, ProcessorCatalogue catalogue) =>
        from song in album.Songs
        from place in Places(song)
        from slot in ChainPlace.Find(song, place)!.Slots
        let fault = KeptSettings.FaultOf(slot, catalogue)
        where fault is not null
        select KeptSettings.Told(ChainPlace.NameOf(song, place), slot.Processor, fault);

    private static IEnumerable<TapPlace> Places(Song song)
    {
        yield return TapPlace.Bus;
        for (int stem = 0; stem < song.Stems.Length; stem++)
        {
            yield return TapPlace.OfStem(stem);
            for (int parallel = 0; parallel < song.Stems[stem].Parallels.Length; parallel++)
            {
                yield return new TapPlace(stem, parallel, null);
            }
        }
    }
}
