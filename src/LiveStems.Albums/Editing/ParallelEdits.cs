using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Albums.Editing;

/// <summary>Changes of a parallel that are more than a value.</summary>
public static class ParallelEdits
{
    private const string Equaliser = "equaliser";
    private const string Gain = "gain";
    private const string InvertLeft = "invertLeft";
    private const string InvertRight = "invertRight";

    /// <summary>Puts copies of the stem's equalisers first in a parallel that is fed before the chain; they no longer follow the stem's.</summary>
    /// <exception cref="AlbumException">The parallel is fed after the chain, or the stem has no equaliser.</exception>
    public static Album CopyEqualisers(Album album, ParallelPlace place)
    {
        if (place.Parallel(album).AfterChain)
        {
            throw new AlbumException("a parallel fed after the chain has the stem's equalisers already; feed it before the chain first");
        }

        Stem stem = place.Stem(album);
        return place.With(album, parallel => parallel with { IsEqualiserLinked = false, Chain = WithCopies(parallel.Chain, stem) });
    }

    /// <summary>True when a processor of the parallel turns both sides over.</summary>
    public static bool IsTurnedOver(Parallel parallel) => Turning(parallel) is not null;

    /// <summary>Turns the polarity of a parallel over by a gain processor at its end, or takes that away again.</summary>
    public static Album TurnOver(Album album, ParallelPlace place, ProcessorCatalogue catalogue)
    {
        if (Turning(place.Parallel(album)) is { } turning)
        {
            return place.With(album, parallel => parallel with { Chain = parallel.Chain with { Slots = parallel.Chain.Slots.Remove(turning) } });
        }

        string address = $"{place.SongIndex + 1}/{place.StemIndex + 1}/parallel:{place.Parallel(album).Name}";
        Album added = AlbumEdits.AddProcessor(album, address, Gain, catalogue);
        ChainSlot slot = place.Parallel(added).Chain.Slots[^1];
        return place.With(added, parallel => parallel with
        {
            Chain = parallel.Chain with
            {
                Slots = parallel.Chain.Slots.Replace(slot, slot with { Parameters = slot.Parameters.SetItem(InvertLeft, 1).SetItem(InvertRight, 1), Reason = "polarity turned over" }),
            },
        });
    }

    private static ChainSlot? Turning(Parallel parallel) => parallel.Chain.Slots.FirstOrDefault(
        slot => slot is { Processor: Gain, Bypassed: false } && IsOn(slot, InvertLeft) && IsOn(slot, InvertRight));

    private static Chain WithCopies(Chain chain, Stem stem)
    {
        HashSet<string> taken = [.. chain.Slots.Select(slot => slot.Id)];
        List<ChainSlot> copies = [];
        foreach (ChainSlot slot in stem.Chain.Slots.Where(slot => slot.Processor == Equaliser))
        {
            string id = slot.Processor;
            for (int number = 2; !taken.Add(id); number++)
            {
                id = $"{slot.Processor}-{number}";
            }

            copies.Add(slot with { Id = id, Bypassed = slot.Bypassed || stem.Chain.Bypassed });
        }

        return copies.Count == 0
            ? throw new AlbumException($"'{stem.Name}' has no equaliser to copy")
            : chain with { Slots = [.. copies, .. chain.Slots] };
    }

    private static bool IsOn(ChainSlot slot, string parameter) => slot.Parameters.GetValueOrDefault(parameter) > 0;
}
