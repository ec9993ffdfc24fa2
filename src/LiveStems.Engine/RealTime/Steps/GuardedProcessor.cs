using LiveStems.Dsp.Simd;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.RealTime.Steps;

/// <summary>
/// A processor that may be anybody's: called so that whatever it does, throw, hang, write beyond its block, deliver what is
/// no number or far too loud, is an answer and nothing worse.
/// </summary>
internal sealed class GuardedProcessor
{
    // +24 dBFS: no music; what comes of it in a room can hurt. Only outside processors are judged by it, and only while
    // nothing they were given was as loud.
    private const float Loudest = 15.8489f;

    private readonly StereoBuffer? key;
    private readonly IsolatedProcessor? isolated;
    private readonly ForeignMemory? memory;
    private readonly BoundedCalls? bounded;
    private float loudestInput;
    private float foreignReductionDb;

    /// <param name="processor">Prepared for at least the longest block.</param>
    /// <param name="key">What its detectors listen to, aligned with the input; null for the input itself.</param>
    /// <param name="maximumFrames">Longest block.</param>
    public GuardedProcessor(Processor processor, StereoBuffer? key, int maximumFrames)
    {
        Processor = processor;
        this.key = key;
        IsOutside = ComesFromOutside(processor);
        isolated = processor as IsolatedProcessor;
        if (IsForeign(processor))
        {
            memory = new ForeignMemory(maximumFrames);
            bounded = new BoundedCalls(processor);
        }
    }

    /// <summary>The processor.</summary>
    public Processor Processor { get; }

    /// <summary>True for processors that did not come with the program.</summary>
    public bool IsOutside { get; }

    /// <summary>True when code of others runs in this process when it is called.</summary>
    public bool IsForeignHere => memory is not null;

    /// <summary>Where it signs in and out when it is an outside one; null where nobody watches.</summary>
    public OutsideGuard? Guard { get; set; }

    /// <summary>How long code of others may take for a block or a reset where nobody watches.</summary>
    public TimeSpan Patience { get; set; } = TimeSpan.FromSeconds(10);

    /// <summary>Frames for which the dry sound stood in since it was reset, because its own process was late or gone.</summary>
    public long LostFrames => isolated?.LostFrames ?? 0;

    /// <summary>True for processors that did not come with the program.</summary>
    public static bool ComesFromOutside(Processor processor) => processor.GetType().Assembly != typeof(Processor).Assembly;

    /// <summary>True when code of others runs in this process when it is called.</summary>
    public static bool IsForeign(Processor processor) => OutsideLoadContext.Holds(processor.GetType());

    /// <summary>Gain reduction of the block that was processed last, in dB, 0 or below; false when asking for it threw.</summary>
    public bool TryReduction(out float reductionDb)
    {
        try
        {
            reductionDb = memory is null ? Processor.GainReductionDb : foreignReductionDb;
            return true;
        }
        catch (Exception)
        {
            reductionDb = 0;
            return false;
        }
    }

    /// <summary>Processes a block in place; what goes wrong is the answer, and then the block is not to be heard.</summary>
    public ProcessorFault Process(Span<float> left, Span<float> right)
    {
        if (memory is not null)
        {
            return ProcessForeign(memory, left, right);
        }

        StereoBlock block = key is null
            ? new StereoBlock(left, right)
            : new StereoBlock(left, right, key.Left.AsSpan(0, left.Length), key.Right.AsSpan(0, left.Length));
        bool hasThrown = false;
        try
        {
            Processor.Process(block);
        }
        catch (Exception fault) when (fault is not HostingException)
        {
            // Whatever a processor throws must not reach the audio thread: the slot is passed by and named.
            hasThrown = true;
        }

        ProcessorFault there = isolated?.Fault ?? ProcessorFault.None;
        return hasThrown ? ProcessorFault.Threw : there == ProcessorFault.None ? Judge(left, right) : there;
    }

    // Code of others works on memory of its own: what it writes beyond its block is noticed and harms nobody.
    private ProcessorFault ProcessForeign(ForeignMemory own, Span<float> left, Span<float> right)
    {
        if (Guard?.HasGivenUp(Processor) == true)
        {
            return ProcessorFault.Hung;
        }

        int frames = left.Length;
        own.Put(left, right, key is null ? default : key.Left.AsSpan(0, frames), key is null ? default : key.Right.AsSpan(0, frames));
        bool hasReturned = true;
        bool hasThrown = false;
        if (Guard is { } guard && OutsideGuard.WatchesThisThread)
        {
            guard.Enter(Processor);
            try
            {
                Processor.Process(own.Block(frames, key is not null));
                foreignReductionDb = Processor.GainReductionDb;
            }
            catch (Exception)
            {
                hasThrown = true;
            }

            // Does not return when another thread has taken over meanwhile.
            OutsideGuard.Leave();
        }
        else
        {
            hasReturned = bounded!.TryProcess(own, frames, key is not null, Patience, out hasThrown);
            foreignReductionDb = bounded.ReductionDb;
        }

        if (!hasReturned)
        {
            return Hang();
        }

        if (!own.IsIntact(frames))
        {
            return ProcessorFault.WroteOutside;
        }

        own.Take(left, right);
        return hasThrown ? ProcessorFault.Threw : Judge(left, right);
    }

    // Where nobody watches nothing is heard yet, or a file is rendered: that ends rather than be another than was asked for.
    private ProcessorFault Hang()
    {
        if (Guard is null)
        {
            BoundedCalls.EndRender(Processor);
        }

        return ProcessorFault.Hung;
    }

    /// <summary>What is wrong with a processed block; makes what is next to nothing zero.</summary>
    public ProcessorFault Judge(Span<float> left, Span<float> right)
    {
        if (!(Planar.FlushTinyAndCheckFinite(left) & Planar.FlushTinyAndCheckFinite(right)))
        {
            return ProcessorFault.NotFinite;
        }

        return IsOutside && loudestInput <= Loudest && Math.Max(Planar.Peak(left), Planar.Peak(right)) > Loudest
            ? ProcessorFault.TooLoud
            : ProcessorFault.None;
    }

    /// <summary>Keeps in mind how loud the sound is that goes in.</summary>
    public void Hear(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (IsOutside)
        {
            loudestInput = Math.Max(loudestInput, Math.Max(Planar.Peak(left), Planar.Peak(right)));
        }
    }

    /// <summary>As if from silence.</summary>
    public ProcessorFault Reset()
    {
        loudestInput = 0;
        bool hasThrown = false;
        if (bounded is not null)
        {
            return !bounded.TryReset(Patience, out hasThrown) ? Hang() : hasThrown ? ProcessorFault.Threw : ProcessorFault.None;
        }

        try
        {
            Processor.Reset();
        }
        catch (Exception fault) when (fault is not HostingException)
        {
            hasThrown = true;
        }

        return hasThrown ? ProcessorFault.Threw : ProcessorFault.None;
    }
}
