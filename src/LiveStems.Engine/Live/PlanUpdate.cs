using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Engine.Planning;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Live;

/// <summary>
/// What has to happen so that a running plan plays a changed song: nothing but values to be posted, a new plan over the
/// same open stems, or other stems.
/// </summary>
internal static class PlanUpdate
{
    /// <summary>True when the changed song plays the same files at the same places.</summary>
    public static bool HasSameSources(Song old, Song changed) =>
        old.SampleRate == changed.SampleRate
        && old.Stems.Length == changed.Stems.Length
        && old.Stems.Zip(changed.Stems).All(pair =>
            pair.First.File == pair.Second.File && pair.First.Placement.DelayFrames == pair.Second.Placement.DelayFrames);

    /// <summary>Posts every value of the changed song to the plan; false, with nothing posted, when that is not enough.</summary>
    public static bool TryPost(SongPlan plan, Song changed)
    {
        List<(Chain Chain, Chain Changed, IReadOnlyList<PlannedSlot> Slots)> chains = [(plan.Song.Bus, changed.Bus, plan.BusSlots)];
        for (int i = 0; i < plan.Stems.Count; i++)
        {
            StemPath path = plan.Stems[i];
            Stem stem = changed.Stems[i];
            if (path.Stem.Name != stem.Name
                || path.Stem.Placement.Polarity != stem.Placement.Polarity
                || path.Parallels.Count != stem.Parallels.Length)
            {
                return false;
            }

            chains.Add((path.Stem.Chain, stem.Chain, path.Slots));
            for (int j = 0; j < path.Parallels.Count; j++)
            {
                if (path.Parallels[j].Parallel.AfterChain != stem.Parallels[j].AfterChain)
                {
                    return false;
                }

                chains.Add((path.Parallels[j].Parallel.Chain, stem.Parallels[j].Chain, path.Parallels[j].Slots));
            }
        }

        if (!chains.TrueForAll(entry => HasSameStructure(entry.Chain.Slots, entry.Changed.Slots, entry.Slots)))
        {
            return false;
        }

        chains.ForEach(entry => PostChain(entry.Changed, entry.Slots));
        PostGains(plan, changed);
        return true;
    }

    private static bool HasSameStructure(ImmutableArray<ChainSlot> old, ImmutableArray<ChainSlot> changed, IReadOnlyList<PlannedSlot> planned)
    {
        if (old.Length != changed.Length)
        {
            return false;
        }

        for (int i = 0; i < old.Length; i++)
        {
            if (old[i].Id != changed[i].Id || old[i].Processor != changed[i].Processor || old[i].Scope != changed[i].Scope || old[i].KeyStem != changed[i].KeyStem)
            {
                return false;
            }
        }

        return planned.All(slot => slot.Step is null || !ChangesStructure(slot, changed.First(each => each.Id == slot.Slot.Id)));
    }

    private static bool ChangesStructure(PlannedSlot planned, ChainSlot changed)
    {
        IReadOnlyList<ParameterSpec> specs = planned.Step!.Processor.Description.Parameters;
        for (int i = 0; i < specs.Count; i++)
        {
            double value = changed.Parameters.GetValueOrDefault(specs[i].Id, specs[i].Default);
            if (specs[i].IsStructural && specs[i].Clamp(value) != planned.Step.LastParameter(i))
            {
                return true;
            }
        }

        return false;
    }

    private static void PostChain(Chain changed, IReadOnlyList<PlannedSlot> planned)
    {
        foreach (PlannedSlot slot in planned)
        {
            if (slot.Step is not { } step)
            {
                continue;
            }

            ChainSlot now = changed.Slots.First(each => each.Id == slot.Slot.Id);
            step.PostWetShare(changed.Bypassed || now.Bypassed ? 0 : (float)(now.MixPercent / 100));
            IReadOnlyList<ParameterSpec> specs = step.Processor.Description.Parameters;
            for (int i = 0; i < specs.Count; i++)
            {
                double value = specs[i].Clamp(now.Parameters.GetValueOrDefault(specs[i].Id, specs[i].Default));
                if (!specs[i].IsStructural && value != step.LastParameter(i))
                {
                    step.PostParameter(i, value);
                }
            }
        }
    }

    private static void PostGains(SongPlan plan, Song changed)
    {
        for (int i = 0; i < plan.Stems.Count; i++)
        {
            StemPath path = plan.Stems[i];
            MixGains.Pair gains = MixGains.OfStem(changed, changed.Stems[i], path.IsMono, isLive: true);
            path.Output.Gain.Post(gains.Left, gains.Right);
            for (int j = 0; j < path.Parallels.Count; j++)
            {
                MixGains.Pair parallel = MixGains.OfParallel(gains, changed.Stems[i].Parallels[j]);
                path.Parallels[j].Output.Gain.Post(parallel.Left, parallel.Right);
            }
        }
    }
}
