using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Engine.Planning;

/// <summary>
/// Compiles a song into a plan: prepares its processors, and delays every path so that all meet on the song bus aligned
/// to the sample. Two sides of a comparison become one plan with two outputs, aligned with each other, in which what they
/// have in common is computed once.
/// </summary>
public sealed class SongCompiler
{
    private readonly Song song;
    private readonly Song? other;
    private readonly SongSources sources;
    private readonly PlanOptions options;
    private readonly SideBuilder side;
    private readonly SideBuilder? otherSide;
    private readonly Sharing? sharing;

    private SongCompiler(Song song, Song? other, SongSources sources, ProcessorCatalogue catalogue, PlanOptions options)
    {
        this.song = song;
        this.other = other;
        this.sources = sources;
        this.options = options;
        side = new SideBuilder(song, sources, catalogue, options, options.IsLive);
        if (other is not null)
        {
            sharing = Sharing.Between(other, song);
            otherSide = new SideBuilder(other, sources, catalogue, options, keepsBypassed: false);
        }
    }

    /// <summary>Compiles a song over its open stems.</summary>
    /// <param name="song">The song.</param>
    /// <param name="sources">Its stems, opened from the same song with the same options.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="options">What it is compiled for.</param>
    public static SongPlan Compile(Song song, SongSources sources, ProcessorCatalogue catalogue, PlanOptions options) =>
        Compile(ComparedSongs.Only(song), sources, catalogue, options);

    /// <summary>Compiles both sides of a comparison into one plan.</summary>
    /// <param name="songs">The sides.</param>
    /// <param name="sources">What both play, opened with the same options.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="options">What it is compiled for.</param>
    internal static SongPlan Compile(ComparedSongs songs, SongSources sources, ProcessorCatalogue catalogue, PlanOptions options)
    {
        Song? other = songs.In is null ? null : LinkedEqualisers.Resolve(songs.In);
        return new SongCompiler(LinkedEqualisers.Resolve(songs.Out), other, sources, catalogue, options).Compile(songs.InFile);
    }

    private SongPlan Compile(ComparedFile? file)
    {
        ChainSplit?[] splits = Splits();
        side.BuildAll(splits, worksInPlace: !options.IsLive && other is null && file is null);
        otherSide?.BuildBeside(side, sharing!, splits);

        List<PathUnderWay> paths = [.. side.Paths, .. otherSide?.Paths ?? []];
        int longest = paths.Max(path => path.LatencyFrames);
        foreach (PathUnderWay path in paths)
        {
            path.Steps.Add(new BranchOutputStep(path.Buffer, path.Output, longest - path.LatencyFrames));
        }

        List<PlanStep> tail = [];
        ChainSplit? busSplit = sharing is { HasSameMix: true } ? new ChainSplit(sharing.BusSlots, new StereoBuffer(options.MaximumFrames)) : null;
        (StereoBuffer master, int busLatency, List<PlannedSlot> busSlots) = BuildBus(side, song, longest, tail, busSplit);
        ChainTaps? busTaps = side.Chains.LastTaps;
        StereoBuffer? inMaster = null;
        SongSide? inSide = null;
        int latency = longest + busLatency;
        if (other is not null)
        {
            (inMaster, int otherLatency, List<PlannedSlot> slots) = BuildOtherBus(longest, tail, busSplit);
            inSide = new SongSide(other, otherSide!.Stems, slots, sharing!);
            latency = longest + Math.Max(busLatency, otherLatency);
            Align(tail, master, latency - longest - busLatency);
            Align(tail, inMaster, latency - longest - otherLatency);
        }
        else if (file is not null)
        {
            inMaster = new StereoBuffer(options.MaximumFrames);
            int track = sources.IndexOf(file.Path, file.DelayFrames);
            float centre = sources.Files[track].Channels == 1 ? PanLaw.MonoCentre : 1;
            tail.Add(new ReadStemStep(sources.Pumps[track].Feed.Input, inMaster, centre, centre));
            Align(tail, inMaster, latency);
        }

        PlanStep[][] branches = [.. side.Branches.Concat(otherSide?.Branches ?? []).Select(branch => branch.ToArray())];
        Plan plan = new([.. side.Head, .. otherSide?.Head ?? []], branches, [.. tail], master, inMaster, latency, options.BlocksInFlight);
        string[] converted = [.. Converted()];
        return new SongPlan(new SongSide(song, side.Stems, busSlots, null), inSide, sources, plan, converted, [.. converted, .. Lacking()]) { BusTaps = busTaps, Missing = [.. side.Chains.PassedBy.Distinct()], Lacking = [.. side.Chains.Lacking, .. otherSide?.Chains.Lacking ?? []] };
    }

    // Where the other song's chains leave those of this one.
    private ChainSplit?[] Splits()
    {
        ChainSplit?[] splits = new ChainSplit?[song.Stems.Length];
        foreach (StemSharing common in sharing?.Stems.Where(each => each is { Index: >= 0, IsWhole: false }) ?? [])
        {
            splits[common.Index] ??= new ChainSplit(common.Slots, new StereoBuffer(options.MaximumFrames));
        }

        return splits;
    }

    private (StereoBuffer Master, int LatencyFrames, List<PlannedSlot> Slots) BuildBus(
        SideBuilder builder, Song from, int latency, List<PlanStep> tail, ChainSplit? split)
    {
        StereoBuffer master = new(options.MaximumFrames);
        tail.Add(new MixStep([.. builder.Outputs], master));
        List<PlannedSlot> slots = [];
        int busLatency = builder.Chains.Append(from.Bus, "song bus", master, latency, tail, slots, split: split);
        return (master, busLatency, slots);
    }

    private (StereoBuffer Master, int LatencyFrames, List<PlannedSlot> Slots) BuildOtherBus(int latency, List<PlanStep> tail, ChainSplit? split)
    {
        if (split is null)
        {
            return BuildBus(otherSide!, other!, latency, tail, null);
        }

        List<PlannedSlot> slots = [];
        int start = split.LatencyFrames;
        int own = otherSide!.Chains.Append(other!.Bus, "song bus", split.Buffer, latency + start, tail, slots, split.Slots);
        return (split.Buffer, start + own, slots);
    }

    private static void Align(List<PlanStep> tail, StereoBuffer buffer, int frames)
    {
        if (frames > 0)
        {
            tail.Add(new DelayStep(buffer, frames));
        }
    }

    private IEnumerable<string> Converted()
    {
        for (int i = 0; i < song.Stems.Length; i++)
        {
            if (sources.Files[i].SampleRate != sources.SampleRate)
            {
                yield return $"{song.Stems[i].Name}: converted from {sources.Files[i].SampleRate} Hz to {sources.SampleRate} Hz";
            }
        }
    }

    private IEnumerable<string> Lacking() =>
        side.Chains.Lacking.Concat(otherSide?.Chains.Lacking ?? []).Select(each => each.Words).Distinct();
}
