using LiveStems.Albums.Model;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Planning;

/// <summary>
/// Builds the paths of a song from its stems to the song bus: one branch of steps a stem. A second song beside the first
/// takes over what both have in common.
/// </summary>
internal sealed class SideBuilder
{
    private readonly Song song;
    private readonly SongSources sources;
    private readonly PlanOptions options;
    private readonly KeySources keys;
    private readonly Dictionary<Stem, int> tracks = new(ReferenceEqualityComparer.Instance);

    /// <param name="song">The song, its links resolved.</param>
    /// <param name="sources">The open stems.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="options">What it is compiled for.</param>
    /// <param name="keepsBypassed">True when what is bypassed may be switched on while the plan runs.</param>
    public SideBuilder(Song song, SongSources sources, ProcessorCatalogue catalogue, PlanOptions options, bool keepsBypassed)
    {
        this.song = song;
        this.sources = sources;
        this.options = options;
        keys = new KeySources(options.MaximumFrames);
        ProcessingFormat format = new(sources.SampleRate, options.MaximumFrames);
        Chains = new ChainBuilder(catalogue, format, options, keepsBypassed, keys);
    }

    /// <summary>Builds chains that may listen to this song's stems.</summary>
    public ChainBuilder Chains { get; }

    /// <summary>Steps that come before all branches.</summary>
    public List<PlanStep> Head { get; } = [];

    /// <summary>The steps of each branch.</summary>
    public List<List<PlanStep>> Branches { get; } = [];

    /// <summary>What the control side knows of each stem.</summary>
    public List<StemPath> Stems { get; } = [];

    /// <summary>What is summed, in order.</summary>
    public List<BranchOutput> Outputs { get; } = [];

    /// <summary>Paths that wait for their last step, which aligns them.</summary>
    public List<PathUnderWay> Paths { get; } = [];

    /// <summary>Builds all stems.</summary>
    /// <param name="splits">The place, or null, where another song branches off each stem.</param>
    /// <param name="worksInPlace">True when nobody else needs what is taken from the stems' feeds, so that chains may work there.</param>
    public void BuildAll(IReadOnlyList<ChainSplit?> splits, bool worksInPlace)
    {
        List<StereoBuffer> inputs = [];
        for (int i = 0; i < song.Stems.Length; i++)
        {
            tracks.Add(song.Stems[i], i);
            bool staysAsItIs = worksInPlace && MixGains.OfInput(song.Stems[i], IsMono(song.Stems[i])) == new MixGains.Pair(1, 1);
            inputs.Add(staysAsItIs ? sources.Pumps[i].Feed.Input : new StereoBuffer(options.MaximumFrames));
            Branches.Add(BringIn(song.Stems[i], inputs[i], staysAsItIs));
        }

        for (int i = 0; i < song.Stems.Length; i++)
        {
            Stems.Add(BuildStem(song.Stems[i], inputs[i], Branches[i], splits[i]));
        }
    }

    /// <summary>Builds all stems beside those of a song that is built, as far as they are not the same.</summary>
    public void BuildBeside(SideBuilder built, Comparing.Sharing sharing, IReadOnlyList<ChainSplit?> splits)
    {
        foreach (Stem stem in song.Stems)
        {
            tracks.Add(stem, sources.IndexOf(stem.File, stem.Placement.DelayFrames));
        }

        foreach (Stem stem in song.Stems.Where(IsListenedTo))
        {
            StereoBuffer input = new(options.MaximumFrames);
            Head.Add(Read(stem, input));
            keys.Add(stem.Name, input, Head);
        }

        for (int i = 0; i < song.Stems.Length; i++)
        {
            Comparing.StemSharing common = sharing.Stems[i];
            if (common.IsWhole)
            {
                Stems.Add(Share(song.Stems[i], built.Stems[common.Index]));
            }
            else
            {
                List<PlanStep> steps = [];
                Branches.Add(steps);
                ChainSplit? split = common.Index < 0 ? null : splits[common.Index];
                split = split?.Slots == common.Slots ? split : null;
                Stems.Add(BuildOwn(song.Stems[i], steps, split, split is null ? null : built.Stems[common.Index], sharing.HasSameKeys));
            }
        }
    }

    private StemPath Share(Stem stem, StemPath twin)
    {
        MixGains.Pair gains = MixGains.OfStem(song, stem, IsMono(stem), options.IsLive);
        BranchOutput output = Add(new BranchOutput(twin.Output, Gain(MixGains.OfDry(gains, stem))));
        List<ParallelPath> parallels = [.. stem.Parallels.Zip(twin.Parallels).Select(pair => Share(pair.First, pair.Second, gains))];
        return new StemPath(stem, twin.IsMono, twin.Slots, output, parallels);
    }

    // What differs from the twin is built; a chain and parallels that are wholly alike are taken from it.
    private StemPath BuildOwn(Stem stem, List<PlanStep> steps, ChainSplit? split, StemPath? twin, bool keysAreAlike)
    {
        bool isChainShared = twin is not null && split!.Slots == stem.Chain.Slots.Length && split.Slots == twin.Stem.Chain.Slots.Length;
        StereoBuffer buffer = split?.Buffer ?? new StereoBuffer(options.MaximumFrames);
        if (split is null)
        {
            steps.Add(Read(stem, buffer));
        }

        List<ParallelFeed> feeds = [];
        foreach (Parallel parallel in stem.Parallels.Where(parallel => !parallel.AfterChain && IsOwn(parallel)))
        {
            StereoBuffer feed = new(options.MaximumFrames);
            steps.Add(Read(stem, feed));
            feeds.Add(new ParallelFeed(parallel, feed, 0));
        }

        List<PlannedSlot> slots = [];
        int start = split?.LatencyFrames ?? 0;
        int latency = start + Chains.Append(stem.Chain, stem.Name, buffer, start, steps, slots, split?.Slots ?? 0);
        ChainTaps? taps = Chains.LastTaps;
        FeedAfterChain(stem, buffer, latency, steps, feeds, IsOwn);
        return Finish(stem, buffer, latency, steps, slots, feeds, isChainShared ? twin : null, TwinOf) with { Taps = taps };

        bool IsOwn(Parallel parallel) => !parallel.Muted && TwinOf(parallel) is null;

        ParallelPath? TwinOf(Parallel parallel) =>
            twin is not null && Comparing.StemSharing.TwinOf(parallel, twin.Stem, isChainShared, keysAreAlike) is >= 0 and int index
                ? twin.Parallels[index]
                : null;
    }

    private StemPath BuildStem(Stem stem, StereoBuffer buffer, List<PlanStep> steps, ChainSplit? split)
    {
        List<ParallelFeed> feeds = [];
        foreach (Parallel parallel in stem.Parallels.Where(parallel => !parallel.AfterChain))
        {
            StereoBuffer feed = new(options.MaximumFrames);
            steps.Add(new CopyStep(buffer, feed, 0));
            feeds.Add(new ParallelFeed(parallel, feed, 0));
        }

        List<PlannedSlot> slots = [];
        int latency = Chains.Append(stem.Chain, stem.Name, buffer, 0, steps, slots, split: split);
        ChainTaps? taps = Chains.LastTaps;
        FeedAfterChain(stem, buffer, latency, steps, feeds, _ => true);
        return Finish(stem, buffer, latency, steps, slots, feeds, null, _ => null) with { Taps = taps };
    }

    private void FeedAfterChain(
        Stem stem, StereoBuffer source, int latency, List<PlanStep> steps, List<ParallelFeed> feeds, Func<Parallel, bool> isBuilt)
    {
        foreach (Parallel parallel in stem.Parallels.Where(parallel => parallel.AfterChain && isBuilt(parallel)))
        {
            StereoBuffer feed = new(options.MaximumFrames);
            steps.Add(new CopyStep(source, feed, 0));
            feeds.Add(new ParallelFeed(parallel, feed, latency));
        }
    }

    private StemPath Finish(
        Stem stem, StereoBuffer buffer, int latency, List<PlanStep> steps, List<PlannedSlot> slots, List<ParallelFeed> feeds,
        StemPath? chainTwin, Func<Parallel, ParallelPath?> twinOf)
    {
        bool isMono = IsMono(stem);
        MixGains.Pair gains = MixGains.OfStem(song, stem, isMono, options.IsLive);
        MixGains.Pair dry = MixGains.OfDry(gains, stem);
        BranchOutput output = chainTwin is null ? AddPath(buffer, latency, dry, steps) : Add(new BranchOutput(chainTwin.Output, Gain(dry)));
        List<ParallelPath> parallels = [];
        foreach (Parallel parallel in stem.Parallels)
        {
            ParallelFeed? feed = feeds.Find(each => ReferenceEquals(each.Parallel, parallel));
            parallels.Add(
                feed is not null ? BuildParallel(stem, feed, gains, steps)
                : !parallel.Muted && twinOf(parallel) is { } twin ? Share(parallel, twin, gains)
                : new ParallelPath(parallel, [], null));
        }

        return new StemPath(stem, isMono, slots, output, parallels);
    }

    private ParallelPath Share(Parallel parallel, ParallelPath twin, MixGains.Pair gains) => twin with
    {
        Parallel = parallel,
        Output = Add(new BranchOutput(twin.Output!, Gain(MixGains.OfParallel(gains, parallel)))),
    };

    private ParallelPath BuildParallel(Stem stem, ParallelFeed feed, MixGains.Pair gains, List<PlanStep> steps)
    {
        List<PlannedSlot> slots = [];
        int latency = feed.LatencyFrames;
        latency += Chains.Append(feed.Parallel.Chain, $"{stem.Name}, {feed.Parallel.Name}", feed.Buffer, latency, steps, slots);
        ChainTaps? taps = Chains.LastTaps;
        if (feed.Parallel.AlignSamples != 0)
        {
            FineDelayStep align = new(feed.Buffer, feed.Parallel.AlignSamples);
            steps.Add(align);
            latency += align.LatencyFrames;
        }

        return new ParallelPath(feed.Parallel, slots, AddPath(feed.Buffer, latency, MixGains.OfParallel(gains, feed.Parallel), steps)) { Taps = taps };
    }

    private List<PlanStep> BringIn(Stem stem, StereoBuffer input, bool isThere)
    {
        PlanStep[] read = isThere ? [] : [Read(stem, input)];
        if (!IsListenedTo(stem))
        {
            return [.. read];
        }

        Head.AddRange(read);
        keys.Add(stem.Name, input, Head);
        return [];
    }

    private ReadStemStep Read(Stem stem, StereoBuffer input)
    {
        (float left, float right) = MixGains.OfInput(stem, IsMono(stem));
        return new ReadStemStep(sources.Pumps[tracks[stem]].Feed.Input, input, left, right);
    }

    private bool IsListenedTo(Stem stem) =>
        song.Stems
            .SelectMany(other => other.Parallels.Select(parallel => parallel.Chain).Append(other.Chain))
            .Append(song.Bus)
            .SelectMany(chain => chain.Slots)
            .Any(slot => slot.KeyStem == stem.Name);

    private bool IsMono(Stem stem) => sources.Files[tracks[stem]].Channels == 1;

    private BranchOutput AddPath(StereoBuffer buffer, int latency, MixGains.Pair gains, List<PlanStep> steps)
    {
        BranchOutput output = Add(new BranchOutput(options.MaximumFrames, options.BlocksInFlight, Gain(gains)));
        Paths.Add(new PathUnderWay(buffer, latency, output, steps));
        return output;
    }

    private BranchOutput Add(BranchOutput output)
    {
        Outputs.Add(output);
        return output;
    }

    private RampedStereoGain Gain(MixGains.Pair gains) => new(PlanTiming.RampFrames(sources.SampleRate), gains.Left, gains.Right);

    private sealed record ParallelFeed(Parallel Parallel, StereoBuffer Buffer, int LatencyFrames);
}

/// <summary>A path that is built but for its alignment.</summary>
internal sealed record PathUnderWay(StereoBuffer Buffer, int LatencyFrames, BranchOutput Output, List<PlanStep> Steps);
