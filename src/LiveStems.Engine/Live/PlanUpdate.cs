using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
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

    /// <summary>
    /// Posts every value of the changed song, or of both sides of a comparison, to the plan; false, with nothing posted, when
    /// that is not enough.
    /// </summary>
    public static bool TryPost(SongPlan plan, ComparedSongs changed)
    {
        Song song = LinkedEqualisers.Resolve(changed.Out);
        Song? other = changed.In is null ? null : LinkedEqualisers.Resolve(changed.In);
        bool hasOther = plan.Plan.InOutput is not null;
        if (hasOther != (changed.In is not null || changed.InFile is not null) || plan.InSide is null != other is null)
        {
            return false;
        }

        List<RunningChain> chains = [];
        if (!Collect(plan.Side, song, chains)
            || (other is not null && (!Collect(plan.InSide!, other, chains) || !Sharing.Between(other, song).Equals(plan.InSide!.Sharing)))
            || !chains.TrueForAll(entry => HasSameStructure(entry.Chain.Slots, entry.Changed, entry.Slots)))
        {
            return false;
        }

        chains.ForEach(entry => PostChain(entry.Changed, entry.Slots));
        PostGains(plan.Side, song);
        if (other is not null)
        {
            PostGains(plan.InSide!, other);
        }

        return true;
    }

    private static bool Collect(SongSide side, Song changed, List<RunningChain> chains)
    {
        if (side.Stems.Count != changed.Stems.Length)
        {
            return false;
        }

        chains.Add(new RunningChain(side.Song.Bus, changed.Bus, side.BusSlots));
        for (int i = 0; i < side.Stems.Count; i++)
        {
            StemPath path = side.Stems[i];
            Stem stem = changed.Stems[i];
            if (path.Stem.Name != stem.Name
                || path.Stem.Placement.Polarity != stem.Placement.Polarity
                || path.Parallels.Count != stem.Parallels.Length
                || !path.Parallels.Zip(stem.Parallels).All(pair => IsFedAlike(pair.First, pair.Second)))
            {
                return false;
            }

            chains.Add(new RunningChain(path.Stem.Chain, stem.Chain, path.Slots));
            chains.AddRange(path.Parallels.Zip(stem.Parallels).Select(pair => new RunningChain(pair.First.Parallel.Chain, pair.Second.Chain, pair.First.Slots)));
        }

        return true;
    }

    // A parallel that was left out because it is muted cannot come in.
    private static bool IsFedAlike(ParallelPath path, Albums.Model.Parallel changed) =>
        path.Parallel.AfterChain == changed.AfterChain
        && path.Parallel.AlignSamples == changed.AlignSamples
        && (path.Output is not null || changed.Muted);

    private static bool HasSameStructure(ImmutableArray<ChainSlot> old, Chain changedChain, IReadOnlyList<PlannedSlot> planned)
    {
        ImmutableArray<ChainSlot> changed = changedChain.Slots;
        if (old.Length != changed.Length)
        {
            return false;
        }

        for (int i = 0; i < old.Length; i++)
        {
            if (old[i].Id != changed[i].Id || old[i].Processor != changed[i].Processor || old[i].Scope != changed[i].Scope || old[i].KeyStem != changed[i].KeyStem || old[i].OwnProcess != changed[i].OwnProcess)
            {
                return false;
            }
        }

        return planned.All(slot =>
        {
            ChainSlot now = changed.First(each => each.Id == slot.Slot.Id);
            return now.RawParameters is not null ? slot.Slot.RawParameters == now.RawParameters
                : slot.Step is null ? changedChain.Bypassed || now.Bypassed || now.MixPercent == 0
                : !ChangesStructure(slot, now);
        });
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
            IReadOnlyList<ParameterSpec> specs = now.RawParameters is null ? step.Processor.Description.Parameters : [];
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

    private static void PostGains(SongSide side, Song changed)
    {
        for (int i = 0; i < side.Stems.Count; i++)
        {
            StemPath path = side.Stems[i];
            MixGains.Pair gains = MixGains.OfStem(changed, changed.Stems[i], path.IsMono, isLive: true);
            MixGains.Pair dry = MixGains.OfDry(gains, changed.Stems[i]);
            path.Output.Gain.Post(dry.Left, dry.Right);
            for (int j = 0; j < path.Parallels.Count; j++)
            {
                MixGains.Pair parallel = MixGains.OfParallel(gains, changed.Stems[i].Parallels[j]);
                path.Parallels[j].Output?.Gain.Post(parallel.Left, parallel.Right);
            }
        }
    }

    private sealed record RunningChain(Chain Chain, Chain Changed, IReadOnlyList<PlannedSlot> Slots);
}
