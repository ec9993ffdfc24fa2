using LiveStems.Engine.Planning;

namespace LiveStems.Engine.Live;

/// <summary>Adds up what outside processors have done wrong in all the plans that a player has played. Control thread.</summary>
internal sealed class OutsideTally
{
    private readonly Dictionary<(string Place, string Processor), OutsideUse> past = [];

    /// <summary>A plan plays no more.</summary>
    public void Add(SongPlan plan)
    {
        foreach (OutsideUse use in plan.OutsideUses())
        {
            Add(use);
        }
    }

    /// <summary>A processor hung, which its plan counts, and frames of silence were heard until the plan went on without it.</summary>
    public void AddHang(string place, string processor, long framesLost) => Add(new OutsideUse(place, processor, 0, framesLost, "did not come to an end"));

    /// <summary>All so far, with those of the plan that plays.</summary>
    public IReadOnlyList<OutsideUse> With(SongPlan? playing)
    {
        if (past.Count == 0)
        {
            return playing?.OutsideUses() ?? [];
        }

        Dictionary<(string, string), OutsideUse> all = new(past);
        foreach (OutsideUse use in playing?.OutsideUses() ?? [])
        {
            all[(use.Place, use.Processor)] = Sum(all.GetValueOrDefault((use.Place, use.Processor)), use);
        }

        return [.. all.Values];
    }

    private void Add(OutsideUse use) => past[(use.Place, use.Processor)] = Sum(past.GetValueOrDefault((use.Place, use.Processor)), use);

    private static OutsideUse Sum(OutsideUse? one, OutsideUse other) => one is null
        ? other
        : other with { Faults = one.Faults + other.Faults, FramesLost = one.FramesLost + other.FramesLost, LastFault = other.LastFault ?? one.LastFault };
}
