using LiveStems.Albums.Model;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Engine.Offline;

/// <summary>
/// One stem in several states of its chain and its parallels, rendered side by side as each would reach the song bus, aligned
/// with each other and with the stem's file. What states have in common is computed once; every state is the bits of its own
/// render.
/// </summary>
public sealed class StemStates : IDisposable
{
    // Longer than elsewhere: the threads that make the states of a song wait for each other once a block.
    private static readonly PlanOptions Options = new(8192, 32_768);

    private readonly SongSources sources;
    private readonly ChainBuilder chains;
    private readonly BranchTree tree;
    private readonly PlanStep[] steps;
    private readonly PlanStep[][] mixes;
    private readonly StereoBuffer[][] sounds;

    /// <summary>Opens the stem and prepares all states; the first <see cref="Run"/> delivers the first frame of the song.</summary>
    /// <param name="song">The song, its rate said.</param>
    /// <param name="stem">Index of the stem.</param>
    /// <param name="states">The stem's states; all with its file and placement.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="sides">Sets of memory that blocks are delivered to, so that one can be used while the next is rendered.</param>
    /// <exception cref="Files.AudioFileException">A stem can't be read.</exception>
    public StemStates(Song song, int stem, IReadOnlyList<Stem> states, string albumFolder, ProcessorCatalogue catalogue, int sides = 1)
    {
        states = LinkedEqualisers.Resolve(song with { Stems = [.. states] }).Stems;
        HashSet<string> names = [.. states.SelectMany(KeysOf).Where(name => name != song.Stems[stem].Name)];
        Song heard = song with { Stems = [song.Stems[stem], .. song.Stems.Where(other => names.Contains(other.Name))], Bus = Chain.Empty };
        sources = SongSources.Open(heard, albumFolder, Options);
        KeySources keys = new(MaximumFrames);
        List<PlanStep> head = [];
        StereoBuffer[] inputs = [.. heard.Stems.Select((each, index) => BringIn(each, index, head))];
        foreach (string key in states.SelectMany(KeysOf).Distinct())
        {
            int index = heard.Stems.ToList().FindIndex(each => each.Name == key);
            if (index >= 0)
            {
                keys.Add(key, inputs[index], head);
            }
        }

        chains = new ChainBuilder(catalogue, new ProcessingFormat(sources.SampleRate, MaximumFrames), Options, keepsBypassed: false, keys);
        tree = new BranchTree(chains, inputs[0], MaximumFrames);
        List<(BranchTree.Place Place, MixGains.Pair Gains)>[] paths = [.. states.Select(state => PathsOf(song, state, tree).ToList())];
        int latency = paths.SelectMany(each => each).Max(path => path.Place.LatencyFrames);
        Dictionary<BranchTree.Place, BranchOutput> outputs = new(ReferenceEqualityComparer.Instance);
        steps = [.. head, .. tree.LineUp(), .. Ends(paths, latency, outputs)];
        sounds = [.. Enumerable.Range(0, sides).Select(_ => states.Select(_ => new StereoBuffer(MaximumFrames)).ToArray())];
        mixes = [.. sounds.Select(side => side.Select((sound, state) => Mix(paths[state], outputs, sound)).ToArray())];
        foreach (PlanStep step in steps.Concat(mixes.SelectMany(side => side)))
        {
            step.Reset();
        }

        for (int left = latency; left > 0; left -= MaximumFrames)
        {
            Run(Math.Min(left, MaximumFrames));
        }
    }

    /// <summary>The longest block.</summary>
    public static int MaximumFrames => Options.MaximumFrames;

    /// <summary>Frames from the start of the song to the end of the stem and of those it listens to.</summary>
    public long Frames => sources.Frames;

    /// <summary>Processors that are switched on in a state and that the sound passes by, as <see cref="SongPlan.PassedBy"/> tells them.</summary>
    public IEnumerable<string> PassedBy() => chains.PassedBy.Concat(SongPlan.Failures(tree.Slots, "stem"));

    /// <summary>Where a state's sound lies after each block that was delivered to a side; to be read only.</summary>
    public PlanarStereo Sound(int state, int side = 0) => new(sounds[side][state].Left, sounds[side][state].Right);

    /// <summary>Renders the next 1 to <see cref="MaximumFrames"/> frames; behind its end the stem is silent.</summary>
    /// <param name="frames">How many.</param>
    /// <param name="side">The set of memory they are delivered to.</param>
    /// <exception cref="Files.AudioFileException">A stem breaks off.</exception>
    public void Run(int frames, int side = 0)
    {
        foreach (StemPump pump in sources.Pumps)
        {
            pump.ReadForPlan(frames);
        }

        PlanBlock block = new(frames, 0);
        foreach (PlanStep step in steps)
        {
            step.Run(block);
        }

        foreach (PlanStep mix in mixes[side])
        {
            mix.Run(block);
        }
    }

    /// <summary>Closes the stem.</summary>
    public void Dispose() => sources.Dispose();

    private static IEnumerable<string> KeysOf(Stem stem) => stem.Parallels
        .Select(parallel => parallel.Chain).Append(stem.Chain)
        .SelectMany(chain => chain.Slots).Select(slot => slot.KeyStem).OfType<string>();

    private StereoBuffer BringIn(Stem stem, int index, List<PlanStep> head)
    {
        StereoBuffer input = new(MaximumFrames);
        MixGains.Pair gains = MixGains.OfInput(stem, IsMono(index));
        head.Add(new ReadStemStep(sources.Pumps[index].Feed.Input, input, gains.Left, gains.Right));
        return input;
    }

    private bool IsMono(int index) => sources.Files[index].Channels == 1;

    private IEnumerable<(BranchTree.Place Place, MixGains.Pair Gains)> PathsOf(Song song, Stem state, BranchTree tree)
    {
        MixGains.Pair gains = MixGains.OfStem(song, state, IsMono(0), isLive: false);
        BranchTree.Place behind = tree.Behind(tree.Root, state.Chain, state.Name, 0);
        yield return (behind, MixGains.OfDry(gains, state));
        for (int i = 0; i < state.Parallels.Length; i++)
        {
            Parallel parallel = state.Parallels[i];
            if (!parallel.Muted)
            {
                BranchTree.Place end = tree.Behind(parallel.AfterChain ? behind : tree.Root, parallel.Chain, $"{state.Name}, {parallel.Name}", i + 1);
                yield return (tree.Aligned(end, parallel.AlignSamples, i + 1), MixGains.OfParallel(gains, parallel));
            }
        }
    }

    private IEnumerable<PlanStep> Ends(
        List<(BranchTree.Place Place, MixGains.Pair Gains)>[] paths, int longest, Dictionary<BranchTree.Place, BranchOutput> outputs)
    {
        foreach (BranchTree.Place place in paths.SelectMany(each => each).Select(path => path.Place))
        {
            if (!outputs.ContainsKey(place))
            {
                BranchOutput output = new(MaximumFrames, 1, Gain(new MixGains.Pair(1, 1)));
                outputs.Add(place, output);
                yield return new BranchOutputStep(place.Buffer, output, longest - place.LatencyFrames);
            }
        }
    }

    private MixStep Mix(List<(BranchTree.Place Place, MixGains.Pair Gains)> paths, Dictionary<BranchTree.Place, BranchOutput> outputs, StereoBuffer sound) =>
        new([.. paths.Select(path => new BranchOutput(outputs[path.Place], Gain(path.Gains)))], sound);

    private RampedStereoGain Gain(MixGains.Pair gains) => new(PlanTiming.RampFrames(sources.SampleRate), gains.Left, gains.Right);
}
