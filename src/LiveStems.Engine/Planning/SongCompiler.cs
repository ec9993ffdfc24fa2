using LiveStems.Albums.Model;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Planning;

/// <summary>
/// Compiles a song into a plan: prepares its processors, and delays every path so that all meet on the song bus aligned
/// to the sample.
/// </summary>
public sealed class SongCompiler
{
    private readonly Song song;
    private readonly SongSources sources;
    private readonly PlanOptions options;
    private readonly KeySources keys;
    private readonly ChainBuilder chains;
    private readonly List<PlanStep> head = [];
    private readonly List<PathUnderWay> paths = [];

    private SongCompiler(Song song, SongSources sources, ProcessorCatalogue catalogue, PlanOptions options)
    {
        this.song = song;
        this.sources = sources;
        this.options = options;
        keys = new KeySources(options.MaximumFrames);
        chains = new ChainBuilder(catalogue, new ProcessingFormat(sources.SampleRate, options.MaximumFrames), options.IsLive, keys);
    }

    /// <summary>Compiles a song over its open stems.</summary>
    /// <param name="song">The song.</param>
    /// <param name="sources">Its stems, opened from the same song with the same options.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="options">What it is compiled for.</param>
    public static SongPlan Compile(Song song, SongSources sources, ProcessorCatalogue catalogue, PlanOptions options) =>
        new SongCompiler(song, sources, catalogue, options).Compile();

    private SongPlan Compile()
    {
        List<StereoBuffer> inputs = [];
        List<List<PlanStep>> branches = [];
        for (int i = 0; i < song.Stems.Length; i++)
        {
            branches.Add(BringIn(i, inputs));
        }

        List<StemPath> stems = [];
        for (int i = 0; i < branches.Count; i++)
        {
            stems.Add(BuildStem(song.Stems[i], IsMono(i), inputs[i], branches[i]));
        }

        int longest = paths.Max(path => path.LatencyFrames);
        foreach (PathUnderWay path in paths)
        {
            path.Steps.Add(new BranchOutputStep(path.Buffer, path.Output, longest - path.LatencyFrames));
        }

        StereoBuffer master = new(options.MaximumFrames);
        List<PlanStep> tail = [new MixStep([.. paths.Select(path => path.Output)], master)];
        List<PlannedSlot> busSlots = [];
        int busLatency = chains.Append(song.Bus, "song bus", master, longest, tail, busSlots);
        Plan plan = new([.. head], [.. branches.Select(branch => branch.ToArray())], [.. tail], master, longest + busLatency);
        return new SongPlan(song, sources, plan, stems, busSlots, [.. Remarks()]) { BusTaps = chains.LastTaps };
    }

    private bool IsMono(int stem) => sources.Files[stem].Channels == 1;

    private List<PlanStep> BringIn(int index, List<StereoBuffer> inputs)
    {
        Stem stem = song.Stems[index];
        StereoBuffer input = new(options.MaximumFrames);
        inputs.Add(input);
        float centre = IsMono(index) ? PanLaw.MonoCentre : 1;
        Polarity polarity = stem.Placement.Polarity;
        ReadStemStep read = new(
            sources.Pumps[index].Feed.Input,
            input,
            polarity is Polarity.Inverted or Polarity.LeftInverted ? -centre : centre,
            polarity is Polarity.Inverted or Polarity.RightInverted ? -centre : centre);
        if (!IsListenedTo(stem))
        {
            return [read];
        }

        head.Add(read);
        keys.Add(stem.Name, input, head);
        return [];
    }

    private bool IsListenedTo(Stem stem) =>
        song.Stems
            .SelectMany(other => other.Parallels.Select(parallel => parallel.Chain).Append(other.Chain))
            .Append(song.Bus)
            .SelectMany(chain => chain.Slots)
            .Any(slot => slot.KeyStem == stem.Name);

    private StemPath BuildStem(Stem stem, bool isMono, StereoBuffer buffer, List<PlanStep> steps)
    {
        List<ParallelFeed> feeds = [];
        FeedParallels(stem, false, buffer, 0, steps, feeds);
        List<PlannedSlot> slots = [];
        int latency = chains.Append(stem.Chain, stem.Name, buffer, 0, steps, slots);
        ChainTaps? taps = chains.LastTaps;
        FeedParallels(stem, true, buffer, latency, steps, feeds);

        MixGains.Pair gains = MixGains.OfStem(song, stem, isMono, options.IsLive);
        BranchOutput output = AddPath(buffer, latency, gains, steps);
        List<ParallelPath> parallels = [];
        foreach (Parallel parallel in stem.Parallels)
        {
            ParallelFeed feed = feeds.Find(each => ReferenceEquals(each.Parallel, parallel))!;
            List<PlannedSlot> parallelSlots = [];
            int own = chains.Append(parallel.Chain, $"{stem.Name}, {parallel.Name}", feed.Buffer, feed.LatencyFrames, steps, parallelSlots);
            BranchOutput parallelOutput = AddPath(feed.Buffer, feed.LatencyFrames + own, MixGains.OfParallel(gains, parallel), steps);
            parallels.Add(new ParallelPath(parallel, parallelSlots, parallelOutput) { Taps = chains.LastTaps });
        }

        return new StemPath(stem, isMono, slots, output, parallels) { Taps = taps };
    }

    private void FeedParallels(Stem stem, bool afterChain, StereoBuffer source, int latency, List<PlanStep> steps, List<ParallelFeed> feeds)
    {
        foreach (Parallel parallel in stem.Parallels.Where(parallel => parallel.AfterChain == afterChain))
        {
            StereoBuffer feed = new(options.MaximumFrames);
            steps.Add(new CopyStep(source, feed, 0));
            feeds.Add(new ParallelFeed(parallel, feed, latency));
        }
    }

    private BranchOutput AddPath(StereoBuffer buffer, int latency, MixGains.Pair gains, List<PlanStep> steps)
    {
        RampedStereoGain gain = new(PlanTiming.RampFrames(sources.SampleRate), gains.Left, gains.Right);
        BranchOutput output = new(options.MaximumFrames, gain);
        paths.Add(new PathUnderWay(buffer, latency, output, steps));
        return output;
    }

    private IEnumerable<string> Remarks()
    {
        for (int i = 0; i < song.Stems.Length; i++)
        {
            if (sources.Files[i].SampleRate != sources.SampleRate)
            {
                yield return $"{song.Stems[i].Name}: converted from {sources.Files[i].SampleRate} Hz to {sources.SampleRate} Hz";
            }
        }

        foreach (string missing in chains.MissingProcessors)
        {
            yield return missing;
        }
    }

    private sealed record ParallelFeed(Parallel Parallel, StereoBuffer Buffer, int LatencyFrames);

    private sealed record PathUnderWay(StereoBuffer Buffer, int LatencyFrames, BranchOutput Output, List<PlanStep> Steps);
}
