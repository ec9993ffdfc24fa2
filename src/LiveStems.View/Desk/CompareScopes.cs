using LiveStems.Albums.Model;
using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>Songs without what a comparison is about.</summary>
public static class CompareScopes
{
    /// <summary>The song with a scope passed by.</summary>
    public static Song Without(Song song, CompareScope scope, TapPlace selection) => scope switch
    {
        CompareScope.Processor => WithoutProcessor(song, selection),
        CompareScope.Chain => WithoutChain(song, selection.Chain),
        CompareScope.Stem when selection.IsBus => WithoutBus(song),
        CompareScope.Stem => WithoutStem(song, selection.Stem),
        CompareScope.AllStems => Enumerable.Range(0, song.Stems.Length).Aggregate(song, WithoutStem),
        CompareScope.Parallel when selection.Parallel >= 0 => WithoutParallel(song, selection),
        CompareScope.SongBus => WithoutBus(song),
        _ => song,
    };

    private static Song WithoutProcessor(Song song, TapPlace place) => ChainPlace.Find(song, place) is { } chain
        ? ChainPlace.With(song, place, chain with { Slots = [.. chain.Slots.Select(slot => slot.Id == place.Slot ? slot with { Bypassed = true } : slot)] })
        : song;

    private static Song WithoutChain(Song song, TapPlace place) =>
        place.IsBus ? WithoutBus(song) : ChainPlace.Find(song, place) is { } chain ? ChainPlace.With(song, place, chain with { Bypassed = true }) : song;

    private static Song WithoutStem(Song song, int index) => index >= song.Stems.Length ? song : song with
    {
        Stems = song.Stems.SetItem(index, song.Stems[index] with
        {
            Chain = song.Stems[index].Chain with { Bypassed = true },
            Parallels = [.. song.Stems[index].Parallels.Select(parallel => parallel with { Muted = true })],
        }),
    };

    private static Song WithoutParallel(Song song, TapPlace place)
    {
        Stem stem = song.Stems[place.Stem];
        return song with
        {
            Stems = song.Stems.SetItem(place.Stem, stem with { Parallels = stem.Parallels.SetItem(place.Parallel, stem.Parallels[place.Parallel] with { Muted = true }) }),
        };
    }

    // The limiter at the end of the bus stays in: taking it out would only be loud.
    private static Song WithoutBus(Song song) => song with
    {
        Bus = song.Bus with
        {
            Slots = [.. song.Bus.Slots.Select((slot, index) => index == song.Bus.Slots.Length - 1 && slot.Processor == "limiter" ? slot : slot with { Bypassed = true })],
        },
    };
}
