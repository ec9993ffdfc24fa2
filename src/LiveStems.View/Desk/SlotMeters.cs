using LiveStems.Albums.Model;
using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>The gain reduction of every processor of the song, asked for once a picture and shown in many places.</summary>
internal sealed class SlotMeters(LivePlayer player)
{
    private readonly Dictionary<TapPlace, int> indices = [];
    private TapPlace[] places = [];
    private double[] latest = [];
    private Song? song;

    /// <summary>Every processor.</summary>
    public IReadOnlyList<TapPlace> Places => places;

    /// <summary>The deepest gain reduction of a processor between the last two pictures in dB, 0 or below.</summary>
    public double LatestDb(TapPlace place) => indices.TryGetValue(place, out int index) ? latest[index] : 0;

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
        places = [.. Of(now)];
        latest = new double[places.Length];
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
        }
    }

    private static IEnumerable<TapPlace> Of(Song song)
    {
        for (int stem = 0; stem < song.Stems.Length; stem++)
        {
            foreach (ChainSlot slot in song.Stems[stem].Chain.Slots)
            {
                yield return new TapPlace(stem, -1, slot.Id);
            }

            for (int parallel = 0; parallel < song.Stems[stem].Parallels.Length; parallel++)
            {
                foreach (ChainSlot slot in song.Stems[stem].Parallels[parallel].Chain.Slots)
                {
                    yield return new TapPlace(stem, parallel, slot.Id);
                }
            }
        }

        foreach (ChainSlot slot in song.Bus.Slots)
        {
            yield return TapPlace.Bus with { Slot = slot.Id };
        }
    }
}
