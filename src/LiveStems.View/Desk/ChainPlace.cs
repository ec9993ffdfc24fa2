using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.View.Desk;

/// <summary>Reads and replaces the chain that a place means, in the records of a song.</summary>
public static class ChainPlace
{
    /// <summary>The chain at a place, or null when the song has no such place.</summary>
    public static Chain? Find(Song song, TapPlace place)
    {
        if (place.IsBus)
        {
            return song.Bus;
        }

        if (place.Stem >= song.Stems.Length)
        {
            return null;
        }

        Stem stem = song.Stems[place.Stem];
        return place.Parallel < 0 ? stem.Chain : place.Parallel < stem.Parallels.Length ? stem.Parallels[place.Parallel].Chain : null;
    }

    /// <summary>The song with another chain at a place; the same song when it has no such place.</summary>
    public static Song With(Song song, TapPlace place, Chain chain)
    {
        if (place.IsBus)
        {
            return song with { Bus = chain };
        }

        if (Find(song, place) is null)
        {
            return song;
        }

        Stem stem = song.Stems[place.Stem];
        Stem changed = place.Parallel < 0
            ? stem with { Chain = chain }
            : stem with { Parallels = stem.Parallels.SetItem(place.Parallel, stem.Parallels[place.Parallel] with { Chain = chain }) };
        return song with { Stems = song.Stems.SetItem(place.Stem, changed) };
    }

    /// <summary>What a place is called: "song bus", "Bass", "Bass, Crush".</summary>
    public static string NameOf(Song song, TapPlace place)
    {
        if (place.IsBus || place.Stem >= song.Stems.Length)
        {
            return "song bus";
        }

        Stem stem = song.Stems[place.Stem];
        return place.Parallel >= 0 && place.Parallel < stem.Parallels.Length ? $"{stem.Name}, {stem.Parallels[place.Parallel].Name}" : stem.Name;
    }

    /// <summary>The place nearest to another one that the song has: that of a stem that is no more is the song bus.</summary>
    public static TapPlace Nearest(Song song, TapPlace place)
    {
        if (place.IsBus || place.Stem >= song.Stems.Length)
        {
            return place.IsBus ? Kept(song, place) : TapPlace.Bus;
        }

        TapPlace inside = place.Parallel < song.Stems[place.Stem].Parallels.Length ? place : TapPlace.OfStem(place.Stem);
        return Kept(song, inside);
    }

    private static TapPlace Kept(Song song, TapPlace place) =>
        place.Slot is null || Find(song, place)!.Slots.Any(slot => slot.Id == place.Slot) ? place : place.Chain;
}
