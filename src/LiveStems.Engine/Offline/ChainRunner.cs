using LiveStems.Albums.Model;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Offline;

/// <summary>
/// Runs one chain by itself over sound from anywhere, with the same steps as a song's plan, so that it does to the bit what
/// it does in the song.
/// </summary>
public sealed class ChainRunner : IDisposable
{
    private readonly StereoBuffer buffer;
    private readonly Dictionary<string, StereoBuffer> keys = new(StringComparer.Ordinal);
    private readonly List<PlanStep> head = [];
    private readonly List<PlanStep> steps = [];
    private readonly List<PlannedSlot> slots = [];
    private readonly List<string> missing;

    /// <summary>Prepares the chain's processors.</summary>
    /// <param name="chain">The chain; slots that are bypassed are left out with their latency.</param>
    /// <param name="catalogue">Where processors come from; slots whose processor it does not have are passed by.</param>
    /// <param name="format">Rate and longest block.</param>
    public ChainRunner(Chain chain, ProcessorCatalogue catalogue, ProcessingFormat format)
    {
        buffer = new StereoBuffer(format.MaximumFrames);
        KeySources sources = new(format.MaximumFrames);
        foreach (string key in chain.Slots.Select(slot => slot.KeyStem).OfType<string>().Distinct())
        {
            StereoBuffer input = new(format.MaximumFrames);
            keys.Add(key, input);
            sources.Add(key, input, head);
        }

        ChainBuilder builder = new(catalogue, format, PlanOptions.Offline, keepsBypassed: false, sources);
        LatencyFrames = builder.Append(chain, "song bus", buffer, 0, steps, slots);
        missing = builder.PassedBy;
        Reset();
    }

    /// <summary>Frames between input and output.</summary>
    public int LatencyFrames { get; }

    /// <summary>Processors that are switched on and that the sound passes by, as <see cref="SongPlan.PassedBy"/> tells them.</summary>
    public IEnumerable<string> PassedBy() => missing.Concat(SongPlan.Failures(slots, "song bus"));

    /// <summary>Names of the stems whose sound the chain listens to; give it with <see cref="SetKey"/> before each block.</summary>
    public IReadOnlyCollection<string> Keys => keys.Keys;

    /// <summary>Gives the sound of a key for the next block.</summary>
    public void SetKey(string stem, ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        left.CopyTo(keys[stem].Left);
        right.CopyTo(keys[stem].Right);
    }

    /// <summary>Lets go of what its processors hold outside this process. It may not run any more.</summary>
    public void Dispose() => SongPlan.Release(slots);

    /// <summary>State as if from silence.</summary>
    public void Reset()
    {
        foreach (PlanStep step in steps)
        {
            step.Reset();
        }
    }

    /// <summary>Processes a block of 1 to the format's longest block of frames in place.</summary>
    public void Process(Span<float> left, Span<float> right)
    {
        PlanBlock block = new(left.Length, 0);
        left.CopyTo(buffer.Left);
        right.CopyTo(buffer.Right);
        foreach (PlanStep step in head)
        {
            step.Run(block);
        }

        foreach (PlanStep step in steps)
        {
            step.Run(block);
        }

        buffer.Left.AsSpan(0, left.Length).CopyTo(left);
        buffer.Right.AsSpan(0, right.Length).CopyTo(right);
    }
}
