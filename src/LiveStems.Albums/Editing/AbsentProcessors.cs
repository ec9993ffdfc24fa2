using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Editing;

/// <summary>Processors that an album uses and a catalogue does not have, or that do not understand their settings.</summary>
public static class AbsentProcessors
{
    /// <summary>One line for each place: where, which, why if that is known. The album plays without them and keeps their settings.</summary>
    public static IEnumerable<string> In(Album album, ProcessorCatalogue catalogue) =>
        from song in album.Songs
        from chain in Chains(song)
        from slot in chain.Chain.Slots
        let fault = KeptSettings.FaultOf(slot, catalogue)
        where fault is not null
        select KeptSettings.Told($"{song.Title}/{chain.Place}", slot.Processor, fault);

    private static IEnumerable<(string Place, Chain Chain)> Chains(Song song) =>
        song.Stems
            .SelectMany(stem => stem.Parallels.Select(parallel => ($"{stem.Name}/parallel:{parallel.Name}", parallel.Chain)).Prepend((stem.Name, stem.Chain)))
            .Append(("bus", song.Bus));
}
