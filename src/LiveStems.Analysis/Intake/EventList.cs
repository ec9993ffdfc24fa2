namespace LiveStems.Analysis.Intake;

/// <summary>Counts places and keeps the largest few, so that a file full of faults takes no more memory than one with ten.</summary>
public sealed class EventList
{
    private const int Kept = 256;

    private readonly List<SoundEvent> places = [];

    /// <summary>Places in all.</summary>
    public long Count { get; private set; }

    /// <summary>Frames of all places together.</summary>
    public long Frames { get; private set; }

    /// <summary>The largest place; null when there is none.</summary>
    public SoundEvent? Largest { get; private set; }

    /// <summary>Up to 256 places in the order of time.</summary>
    public IReadOnlyList<SoundEvent> Places => [.. places.OrderBy(place => place.Frame)];

    internal void Add(SoundEvent place)
    {
        Count++;
        Frames += place.Frames;
        if (Largest is null || place.Size > Largest.Value.Size)
        {
            Largest = place;
        }

        if (places.Count < Kept)
        {
            places.Add(place);
            return;
        }

        int smallest = 0;
        for (int i = 1; i < places.Count; i++)
        {
            smallest = places[i].Size < places[smallest].Size ? i : smallest;
        }

        if (place.Size > places[smallest].Size)
        {
            places[smallest] = place;
        }
    }
}
