using LiveStems.Albums.Model;
using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>The gain reduction of every processor of the song, asked for once a picture and shown in many places.</summary>
internal sealed class SlotMeters(LivePlayer player)
{
    // Below that a reading is rounding.
    private const double LeastReductionDb = -0.05;

    private readonly Dictionary<TapPlace, int> indices = [];
    private readonly HashSet<Slot> reducing = [];
    private Slot[] slots = [];
    private TapPlace[] places = [];
    private double[] latest = [];
    private bool[] hasReduced = [];
    private Song? song;

    /// <summary>Every processor.</summary>
    public IReadOnlyList<TapPlace> Places => places;

    /// <summary>The deepest gain reduction of a processor between the last two pictures in dB, 0 or below.</summary>
    public double LatestDb(TapPlace place) => indices.TryGetValue(place, out int index) ? latest[index] : 0;

    /// <summary>True once the gain of a processor has been reduced, since the album was opened.</summary>
    public bool HasReduced(TapPlace place) => indices.TryGetValue(place, out int index) && hasReduced[index];

    /// <summary>Gain reduction of all processors of a chain together between the last two pictures in dB, 0 or below.</summary>
    public double TotalDb(TapPlace chain)
    {
        double sum = 0;
        for (int i = 0; i < places.Length; i++)
        {
            sum += places[i].Stem == chain.Stem && places[i].Parallel == chain.Parallel ? latest[i] : 0;
        }

        return sum;
    }

    public void Refresh(Song now)
    {
        if (ReferenceEquals(song, now))
        {
            return;
        }

        song = now;
        (TapPlace Place, Slot Slot)[] all = [.. Of(now)];
        places = [.. all.Select(each => each.Place)];
        slots = [.. all.Select(each => each.Slot)];
        latest = new double[places.Length];
        hasReduced = [.. slots.Select(slot => reducing.Contains(slot))];
        indices.Clear();
        for (int i = 0; i < places.Length; i++)
        {
            indices[places[i]] = i;
        }
    }

    public void Update()
    {
        for (int i = 0; i < places.Length; i++)
        {
            latest[i] = player.TakeReductionDb(places[i]);
            if (latest[i] < LeastReductionDb && !hasReduced[i])
            {
                hasReduced[i] = true;
                reducing.Add(slots[i]);
            }
        }
    }

    private static IEnumerable<(TapPlace Place, Slot Slot)> Of(Song song)
    {
        for (int i = 0; i < song.Stems.Length; i++)
        {
            Stem stem = song.Stems[i];
            foreach (ChainSlot slot in stem.Chain.Slots)
            {
                yield return (new TapPlace(i, -1, slot.Id), new Slot(song.Title, stem.Name, string.Empty, slot.Id, slot.Processor));
            }

            for (int j = 0; j < stem.Parallels.Length; j++)
            {
                foreach (ChainSlot slot in stem.Parallels[j].Chain.Slots)
                {
                    yield return (new TapPlace(i, j, slot.Id), new Slot(song.Title, stem.Name, stem.Parallels[j].Name, slot.Id, slot.Processor));
                }
            }
        }

        foreach (ChainSlot slot in song.Bus.Slots)
        {
            yield return (TapPlace.Bus with { Slot = slot.Id }, new Slot(song.Title, string.Empty, string.Empty, slot.Id, slot.Processor));
        }
    }

    /// <summary>A processor by what it is called, wherever its stem stands.</summary>
    private readonly record struct Slot(string Song, string Stem, string Parallel, string Id, string Processor);
}
