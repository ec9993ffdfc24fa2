using LiveStems.Albums.Model;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Offline;

/// <summary>
/// Chains over sounds of their own, run together so that processors of one kind share the lanes of vectors. Each does to the
/// bit what <see cref="ChainRunner"/> does alone.
/// </summary>
public sealed class ChainBank
{
    private readonly StereoBuffer[] sounds;
    private readonly int[] latencies;
    private readonly Dictionary<string, StereoBuffer> keys = new(StringComparer.Ordinal);
    private readonly PlanStep[] steps;

    /// <summary>Prepares the processors, as if from silence.</summary>
    /// <param name="chains">The chains; slots that are bypassed are left out with their latency.</param>
    /// <param name="catalogue">Where processors come from; slots whose processor it does not have are passed by.</param>
    /// <param name="format">Rate and longest block.</param>
    public ChainBank(IReadOnlyList<Chain> chains, ProcessorCatalogue catalogue, ProcessingFormat format)
    {
        KeySources sources = new(format.MaximumFrames);
        List<PlanStep> head = [];
        foreach (string key in chains.SelectMany(chain => chain.Slots).Select(slot => slot.KeyStem).OfType<string>().Distinct())
        {
            StereoBuffer input = new(format.MaximumFrames);
            keys.Add(key, input);
            sources.Add(key, input, head);
        }

        sounds = [.. chains.Select(_ => new StereoBuffer(format.MaximumFrames))];
        List<PlanStep>[] paths = [.. chains.Select(_ => new List<PlanStep>())];
        latencies = [.. chains.Select((chain, index) =>
            new ChainBuilder(catalogue, format, PlanOptions.Offline, keepsBypassed: false, sources).Append(chain, "chain", sounds[index], 0, paths[index], []))];
        steps = [.. head, .. BranchGroup.LineUp([.. paths.Select(path => new Queue<PlanStep>(path))])];
        foreach (PlanStep step in steps)
        {
            step.Reset();
        }
    }

    /// <summary>Names of the stems whose sound the chains listen to; give it with <see cref="SetKey"/> before each block.</summary>
    public IReadOnlyCollection<string> Keys => keys.Keys;

    /// <summary>Frames between input and output of a chain.</summary>
    public int LatencyFrames(int chain) => latencies[chain];

    /// <summary>Where the sound of a chain lies: its input before <see cref="Process"/>, its output afterwards.</summary>
    public PlanarStereo Sound(int chain) => new(sounds[chain].Left, sounds[chain].Right);

    /// <summary>Gives the sound of a key for the next block.</summary>
    public void SetKey(string stem, ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        left.CopyTo(keys[stem].Left);
        right.CopyTo(keys[stem].Right);
    }

    /// <summary>Processes 1 to the format's longest block of frames of every sound in place.</summary>
    public void Process(int frames)
    {
        PlanBlock block = new(frames, 0);
        foreach (PlanStep step in steps)
        {
            step.Run(block);
        }
    }
}
