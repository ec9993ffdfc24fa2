using LiveStems.Albums.Model;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Offline;

/// <summary>
/// Runs one chain over two sounds side by side, the second led by the first: every processor that can listen to a key hears
/// the first sound as it is at that place, so that both get the same gain at every moment and stay interchangeable.
/// </summary>
public sealed class LinkedChainRunner : IDisposable
{
    private const string Leading = "\u0001leading";

    private readonly StereoBuffer leader;
    private readonly StereoBuffer follower;
    private readonly List<PlanStep> steps = [];
    private readonly List<PlannedSlot> slots = [];
    private readonly List<string> missing = [];

    /// <summary>Prepares the chain's processors twice.</summary>
    /// <param name="chain">The chain; slots that listen to a stem listen to the leading sound in both.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="format">Rate and longest block.</param>
    public LinkedChainRunner(Chain chain, ProcessorCatalogue catalogue, ProcessingFormat format)
    {
        leader = new StereoBuffer(format.MaximumFrames);
        follower = new StereoBuffer(format.MaximumFrames);
        foreach (ChainSlot slot in chain.Bypassed ? [] : chain.Slots)
        {
            KeySources keys = new(format.MaximumFrames);
            keys.Add(Leading, leader, steps);
            bool listens = catalogue.Find(slot.Processor)?.ListensToKey ?? false;
            ChainSlot led = listens ? slot with { KeyStem = Leading } : slot with { KeyStem = null };
            ChainBuilder builder = new(catalogue, format, PlanOptions.Offline, keepsBypassed: false, keys);
            LatencyFrames += builder.Append(new Chain(false, [led]), "song bus", follower, 0, steps, slots);
            missing.AddRange(builder.PassedBy);
            builder.Append(new Chain(false, [slot with { KeyStem = null }]), "song bus", leader, 0, steps, slots);
        }

        foreach (PlanStep step in steps)
        {
            step.Reset();
        }
    }

    /// <summary>Frames between input and output, the same for both.</summary>
    public int LatencyFrames { get; }

    /// <summary>Processors that are switched on and that the sound passes by, as <see cref="SongPlan.PassedBy"/> tells them.</summary>
    public IEnumerable<string> PassedBy() => missing.Concat(SongPlan.Failures(slots, "song bus")).Distinct();

    /// <summary>Lets go of what its processors hold outside this process. It may not run any more.</summary>
    public void Dispose() => SongPlan.Release(slots);

    /// <summary>Processes a block of both sounds in place.</summary>
    public void Process(Span<float> leadLeft, Span<float> leadRight, Span<float> ledLeft, Span<float> ledRight)
    {
        PlanBlock block = new(leadLeft.Length, 0);
        leadLeft.CopyTo(leader.Left);
        leadRight.CopyTo(leader.Right);
        ledLeft.CopyTo(follower.Left);
        ledRight.CopyTo(follower.Right);
        foreach (PlanStep step in steps)
        {
            step.Run(block);
        }

        leader.Left.AsSpan(0, leadLeft.Length).CopyTo(leadLeft);
        leader.Right.AsSpan(0, leadLeft.Length).CopyTo(leadRight);
        follower.Left.AsSpan(0, leadLeft.Length).CopyTo(ledLeft);
        follower.Right.AsSpan(0, leadLeft.Length).CopyTo(ledRight);
    }
}
