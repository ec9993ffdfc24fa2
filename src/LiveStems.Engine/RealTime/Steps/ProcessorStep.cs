using LiveStems.Albums.Model;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.RealTime.Steps;

/// <summary>
/// A processor in its slot: chooses stereo, mid or side, keeps the dry sound aligned to the sample, blends, and lets
/// nothing but finite numbers through.
/// </summary>
internal sealed class ProcessorStep : PlanStep
{
    // +24 dBFS: no music; what comes of it in a room can hurt. Only outside processors are judged by it, and only while
    // nothing they were given was as loud.
    private const float Loudest = 15.8489f;

    private readonly Processor processor;
    private readonly bool isOutside;
    private readonly IsolatedProcessor? isolated;
    private readonly ForeignMemory? memory;
    private readonly BoundedCalls? bounded;
    private readonly StereoBuffer buffer;
    private readonly StereoBuffer? key;
    private readonly StereoScope scope;
    private readonly StereoBuffer? dry;
    private readonly StereoBuffer? part;
    private readonly StereoDelayLine? dryDelay;
    private readonly RampedLevel wet;
    private readonly ParameterMailbox mailbox;
    private readonly ProcessorBudget? budget;
    private FadeFromStep fade;
    private float lastLeft;
    private float lastRight;
    private float loudestInput;
    private float deepestReductionDb;
    private long passedFrames;
    private float foreignReductionDb;

    /// <param name="processor">Prepared for at least the plan's longest block.</param>
    /// <param name="buffer">The path it works on, in place.</param>
    /// <param name="key">What its detectors listen to, aligned with the input; null for the input itself.</param>
    /// <param name="scope">The part of the stereo sound that it works on.</param>
    /// <param name="wetShare">Processed share, 0 to 1.</param>
    /// <param name="format">The plan's format.</param>
    /// <param name="keepsDry">True when the share may change while playing.</param>
    /// <param name="budget">Watches its time; null where time does not matter.</param>
    public ProcessorStep(
        Processor processor,
        StereoBuffer buffer,
        StereoBuffer? key,
        StereoScope scope,
        float wetShare,
        ProcessingFormat format,
        bool keepsDry,
        ProcessorBudget? budget = null)
    {
        this.budget = budget;
        this.processor = processor;
        isOutside = IsOutside(processor);
        isolated = processor as IsolatedProcessor;
        memory = IsForeign(processor) ? new ForeignMemory(format.MaximumFrames) : null;
        bounded = IsForeign(processor) ? new BoundedCalls(processor) : null;
        this.buffer = buffer;
        this.key = key;
        this.scope = scope;
        mailbox = new ParameterMailbox(processor);
        wet = new RampedLevel(PlanTiming.RampFrames(format.SampleRate), wetShare);
        fade = new FadeFromStep(PlanTiming.RampFrames(format.SampleRate));
        if (keepsDry || isOutside || wetShare != 1 || scope != StereoScope.Stereo)
        {
            dry = new StereoBuffer(format.MaximumFrames);
            dryDelay = new StereoDelayLine(processor.LatencyFrames);
        }

        if (scope != StereoScope.Stereo)
        {
            part = new StereoBuffer(format.MaximumFrames);
        }
    }

    /// <summary>True for processors that did not come with the program.</summary>
    public static bool IsOutside(Processor processor) => processor.GetType().Assembly != typeof(Processor).Assembly;

    /// <summary>True when code of others runs in this process when it is called.</summary>
    public static bool IsForeign(Processor processor) => OutsideLoadContext.Holds(processor.GetType());

    /// <summary>Frames for which the sound passed it by, or the dry sound stood in for it, since it was reset.</summary>
    public long LostFrames => Volatile.Read(ref passedFrames) + (isolated?.LostFrames ?? 0);

    /// <summary>The processor in the slot.</summary>
    public Processor Processor => processor;

    /// <summary>Where it signs in and out when it is an outside one; null where nobody watches.</summary>
    public OutsideGuard? Guard { get; init; }

    /// <summary>Why the sound passes the processor by from now on, or will when it has been faded out.</summary>
    public ProcessorFault Fault { get; private set; }

    private bool IsPassedBy => Fault is not ProcessorFault.None and not ProcessorFault.TooSlow || (Fault == ProcessorFault.TooSlow && wet.IsNone);

    /// <summary>How long code of others may take for a block or a reset where nobody watches.</summary>
    public TimeSpan Patience { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>The path it works on.</summary>
    public PlanarStereo Sound => new(buffer.Left, buffer.Right);

    /// <summary>True when it is nothing but its processor: whole, both sides, no key of its own, no dry sound.</summary>
    public bool CanJoinGroup => key is null && dry is null && budget is null && scope == StereoScope.Stereo;

    /// <summary>In place of <see cref="Run"/>, first part: takes messages in; false when the step must run alone.</summary>
    public bool PrepareForGroup()
    {
        mailbox.Deliver(processor);
        ReceiveShare();
        return !IsPassedBy;
    }

    /// <summary>In place of <see cref="Run"/>, last part, once the group has processed the path.</summary>
    public void FinishInGroup(in PlanBlock block, bool hasThrown)
    {
        Span<float> left = buffer.Left.AsSpan(0, block.Frames);
        Span<float> right = buffer.Right.AsSpan(0, block.Frames);
        ProcessorFault fault = hasThrown ? ProcessorFault.Threw : FaultOf(left, right);
        fault = fault == ProcessorFault.None ? KeepReduction() : fault;
        if (fault != ProcessorFault.None)
        {
            Fail(fault, left, right, default, default);
        }

        End(left, right);
    }

    /// <summary>Control thread: asks for another processed share, 0 to 1; 0 is bypass.</summary>
    public void PostWetShare(float share) => wet.Post(share);

    /// <summary>Control thread: the value of a parameter that was asked for last.</summary>
    public double LastParameter(int parameter) => mailbox.Last(parameter);

    /// <summary>Control thread: asks for another value of a parameter that is not structural.</summary>
    public void PostParameter(int parameter, double value) => mailbox.Post(parameter, value);

    /// <summary>One reading thread: the deepest gain reduction since the last call in dB, 0 or below; 0 while bypassed.</summary>
    public float TakeReductionDb() => Interlocked.Exchange(ref deepestReductionDb, 0);

    public override void Reset()
    {
        Fault = Fault == ProcessorFault.Hung ? Fault : ResetProcessor();
        passedFrames = 0;
        dryDelay?.Reset();
        wet.Arrive();
        fade.Reset();
        loudestInput = 0;
        budget?.Reset();
        lastLeft = 0;
        lastRight = 0;
    }

    public override void Run(in PlanBlock block)
    {
        Span<float> left = buffer.Left.AsSpan(0, block.Frames);
        Span<float> right = buffer.Right.AsSpan(0, block.Frames);
        Span<float> dryLeft = default;
        Span<float> dryRight = default;
        if (Fault != ProcessorFault.Hung)
        {
            mailbox.Deliver(processor);
        }

        ReceiveShare();
        if (dry is not null)
        {
            dryLeft = dry.Left.AsSpan(0, block.Frames);
            dryRight = dry.Right.AsSpan(0, block.Frames);
            left.CopyTo(dryLeft);
            right.CopyTo(dryRight);
            dryDelay!.Process(dryLeft, dryRight);
        }

        if (!IsPassedBy)
        {
            budget?.Begin();
            ListenToInput(left, right);
            ProcessorFault fault = scope == StereoScope.Stereo
                ? Process(left, right)
                : ProcessPart(left, right, dryLeft, dryRight);
            if (budget is not null && budget.IsExceededAfter(block.Frames))
            {
                Fault = ProcessorFault.TooSlow;
            }

            fault = fault == ProcessorFault.None ? KeepReduction() : fault;
            if (fault != ProcessorFault.None)
            {
                Fail(fault, left, right, dryLeft, dryRight);
            }
            else if (dry is not null)
            {
                Blend(left, right, dryLeft, dryRight);
            }
        }
        else
        {
            Volatile.Write(ref passedFrames, passedFrames + block.Frames);
            if (dry is not null)
            {
                dryLeft.CopyTo(left);
                dryRight.CopyTo(right);
            }
        }

        End(left, right);
    }

    private void End(Span<float> left, Span<float> right)
    {
        fade.Apply(left, right);
        lastLeft = left[^1];
        lastRight = right[^1];
    }

    private ProcessorFault KeepReduction()
    {
        try
        {
            float reduction = memory is null ? processor.GainReductionDb : foreignReductionDb;
            if (reduction < Volatile.Read(ref deepestReductionDb) && (dry is null || !wet.IsNone))
            {
                Volatile.Write(ref deepestReductionDb, reduction);
            }

            return ProcessorFault.None;
        }
        catch (Exception)
        {
            return ProcessorFault.Threw;
        }
    }

    // One that is too slow still runs while it is faded out; after that it costs nothing.
    private void ReceiveShare()
    {
        if (Fault == ProcessorFault.TooSlow)
        {
            wet.MoveTo(0);
        }
        else
        {
            wet.Receive();
        }
    }

    private void Blend(Span<float> left, Span<float> right, ReadOnlySpan<float> dryLeft, ReadOnlySpan<float> dryRight)
    {
        if (wet.IsNone)
        {
            dryLeft.CopyTo(left);
            dryRight.CopyTo(right);
        }
        else if (!wet.IsWhole)
        {
            wet.Blend(dryLeft, left, dryRight, right);
        }
    }

    private ProcessorFault Process(Span<float> left, Span<float> right)
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
            processor.Process(block);
        }
        catch (Exception fault) when (fault is not HostingException)
        {
            // Whatever a processor throws must not reach the audio thread: the slot is passed by and named.
            hasThrown = true;
        }

        ProcessorFault there = isolated?.Fault ?? ProcessorFault.None;
        return hasThrown ? ProcessorFault.Threw : there == ProcessorFault.None ? FaultOf(left, right) : there;
    }

    // Code of others works on memory of its own: what it writes beyond its block is noticed and harms nobody.
    private ProcessorFault ProcessForeign(ForeignMemory own, Span<float> left, Span<float> right)
    {
        int frames = left.Length;
        own.Put(left, right, key is null ? default : key.Left.AsSpan(0, frames), key is null ? default : key.Right.AsSpan(0, frames));
        bool hasReturned = true;
        bool hasThrown = false;
        if (Guard is { } guard && OutsideGuard.WatchesThisThread)
        {
            guard.Enter(processor);
            try
            {
                processor.Process(own.Block(frames, key is not null));
                foreignReductionDb = processor.GainReductionDb;
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
        return hasThrown ? ProcessorFault.Threw : FaultOf(left, right);
    }

    // Where nobody watches nothing is heard yet, or a file is rendered: that ends rather than be another than was asked for.
    private ProcessorFault Hang()
    {
        if (Guard is null)
        {
            BoundedCalls.EndRender(processor);
        }

        return ProcessorFault.Hung;
    }

    private ProcessorFault FaultOf(Span<float> left, Span<float> right)
    {
        if (!(Planar.FlushTinyAndCheckFinite(left) & Planar.FlushTinyAndCheckFinite(right)))
        {
            return ProcessorFault.NotFinite;
        }

        return isOutside && loudestInput <= Loudest && Math.Max(Planar.Peak(left), Planar.Peak(right)) > Loudest
            ? ProcessorFault.TooLoud
            : ProcessorFault.None;
    }

    private void ListenToInput(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (isOutside)
        {
            loudestInput = Math.Max(loudestInput, Math.Max(Planar.Peak(left), Planar.Peak(right)));
        }
    }

    private ProcessorFault ResetProcessor()
    {
        bool hasThrown = false;
        if (bounded is not null)
        {
            return !bounded.TryReset(Patience, out hasThrown) ? Hang() : hasThrown ? ProcessorFault.Threw : ProcessorFault.None;
        }

        try
        {
            processor.Reset();
        }
        catch (Exception fault) when (fault is not HostingException)
        {
            hasThrown = true;
        }

        return hasThrown ? ProcessorFault.Threw : ProcessorFault.None;
    }

    private ProcessorFault ProcessPart(Span<float> left, Span<float> right, ReadOnlySpan<float> dryLeft, ReadOnlySpan<float> dryRight)
    {
        Span<float> centre = part!.Left.AsSpan(0, left.Length);
        Span<float> silence = part.Right.AsSpan(0, left.Length);
        MidSide.Extract(scope, left, right, centre);
        silence.Clear();
        ProcessorFault fault = Process(centre, silence);
        if (fault == ProcessorFault.None)
        {
            MidSide.Replace(scope, centre, dryLeft, dryRight, left, right);
        }

        return fault;
    }

    private void Fail(ProcessorFault fault, Span<float> left, Span<float> right, ReadOnlySpan<float> dryLeft, ReadOnlySpan<float> dryRight)
    {
        Fault = fault;
        if (dry is null)
        {
            left.Clear();
            right.Clear();
        }
        else
        {
            dryLeft.CopyTo(left);
            dryRight.CopyTo(right);
        }

        fade.Start(lastLeft - left[0], lastRight - right[0]);
    }
}
