using LiveStems.Engine.Planning;

namespace LiveStems.Engine.Live;

/// <summary>Adds up what outside processors have done wrong in all the plans that a player has played. Control thread.</summary>
internal sealed class OutsideTally
{
    private Dictionary<(string Song, string Place, string Processor), OutsideUse> past = [];

    /// <summary>A plan plays no more.</summary>
    public void Add(LoadedSong song)
    {
        foreach (OutsideUse use in song.OutsideUses())
        {
            Add(use);
        }
    }

    /// <summary>A processor hung, which its plan counts, and frames of silence were heard until the plan went on without it.</summary>
    public void AddHang(string song, string place, string processor, long framesLost) => Add(new OutsideUse(song, place, processor, 0, framesLost, "did not come to an end"));

    /// <summary>Songs are called otherwise from now on; what was done in them goes with them.</summary>
    /// <param name="titles">New titles by the ones before.</param>
    public void Rename(IReadOnlyDictionary<string, string> titles)
    {
        OutsideUse[] all = [.. past.Values];
        past = [];
        foreach (OutsideUse use in all)
        {
            Add(use with { Song = titles.GetValueOrDefault(use.Song, use.Song) });
        }
    }

    /// <summary>All so far, with those of the plan that plays.</summary>
    public IReadOnlyList<OutsideUse> With(LoadedSong? playing)
    {
        if (past.Count == 0)
        {
            return playing?.OutsideUses() ?? [];
        }

        Dictionary<(string, string, string), OutsideUse> all = new(past);
        foreach (OutsideUse use in playing?.OutsideUses() ?? [])
        {
            all[KeyOf(use)] = Sum(all.GetValueOrDefault(KeyOf(use)), use);
        }

        return [.. all.Values];
    }

    private void Add(OutsideUse use) => past[KeyOf(use)] = Sum(past.GetValueOrDefault(KeyOf(use)), use);

    private static (string Song, string Place, string Processor) KeyOf(OutsideUse use) => (use.Song, use.Place, use.Processor);

    private static OutsideUse Sum(OutsideUse? one, OutsideUse other) => one is null
        ? other
        : other with { Faults = one.Faults + other.Faults, FramesLost = one.FramesLost + other.FramesLost, LastFault = other.LastFault ?? one.LastFault };
}
