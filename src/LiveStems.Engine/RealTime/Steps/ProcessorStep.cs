using LiveStems.Albums.Model;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.RealTime.Steps;

/// <summary>
/// A processor in its slot: chooses stereo, mid or side, keeps the dry sound aligned to the sample and blends. What goes
/// wrong in the processor (<see cref="GuardedProcessor"/>) is a fade to the dry sound.
/// </summary>
internal sealed class ProcessorStep : PlanStep
{
    private readonly GuardedProcessor guarded;
    private readonly StereoBuffer buffer;
    private readonly bool hasKey;
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
    private float deepestReductionDb;
    private long passedFrames;

    /// <param name="prepared">Prepared for at least the plan's longest block.</param>
    /// <param name="buffer">The path it works on, in place.</param>
    /// <param name="key">What its detectors listen to, aligned with the input; null for the input itself.</param>
    /// <param name="scope">The part of the stereo sound that it works on.</param>
    /// <param name="wetShare">Processed share, 0 to 1.</param>
    /// <param name="format">The plan's format.</param>
    /// <param name="keepsDry">True when the share may change while playing.</param>
    /// <param name="budget">Watches its time; null where time does not matter.</param>
    public ProcessorStep(
        PreparedProcessor prepared,
        StereoBuffer buffer,
        StereoBuffer? key,
        StereoScope scope,
        float wetShare,
        ProcessingFormat format,
        bool keepsDry,
        ProcessorBudget? budget = null)
    {
        Processor processor = prepared.Processor;
        LatencyFrames = prepared.LatencyFrames;
        this.budget = budget;
        guarded = new GuardedProcessor(processor, key, format.MaximumFrames);
        this.buffer = buffer;
        hasKey = key is not null;
        this.scope = scope;
        mailbox = new ParameterMailbox(processor);
        wet = new RampedLevel(PlanTiming.RampFrames(format.SampleRate), wetShare);
        fade = new FadeFromStep(PlanTiming.RampFrames(format.SampleRate));
        if (keepsDry || guarded.IsOutside || wetShare != 1 || scope != StereoScope.Stereo)
        {
            dry = new StereoBuffer(format.MaximumFrames);
            dryDelay = new StereoDelayLine(LatencyFrames);
            if (scope == StereoScope.Stereo && processor is IsolatedProcessor apart)
            {
                apart.TakeDryFrom(dry);
            }
        }

        if (scope != StereoScope.Stereo)
        {
            part = new StereoBuffer(format.MaximumFrames);
        }
    }

    /// <summary>Frames for which the sound passed it by, or the dry sound stood in for it, since it was reset.</summary>
    public long LostFrames => Volatile.Read(ref passedFrames) + guarded.LostFrames;

    /// <summary>Frames between its input and its output.</summary>
    public int LatencyFrames { get; }

    /// <summary>The processor in the slot.</summary>
    public Processor Processor => guarded.Processor;

    /// <summary>Where it signs in and out when it is an outside one; null where nobody watches.</summary>
    public OutsideGuard? Guard
    {
        get => guarded.Guard;
        init => guarded.Guard = value;
    }

    /// <summary>Why the sound passes the processor by from now on, or will when it has been faded out.</summary>
    public ProcessorFault Fault { get; private set; }

    /// <summary>True while code of others runs in this process when the step runs.</summary>
    public bool RunsForeignCode => guarded.IsForeignHere && Fault != ProcessorFault.Hung;

    private bool IsPassedBy => Fault is not ProcessorFault.None and not ProcessorFault.TooSlow || (Fault == ProcessorFault.TooSlow && wet.IsNone);

    /// <summary>How long code of others may take for a block or a reset where nobody watches.</summary>
    public TimeSpan Patience
    {
        init => guarded.Patience = value;
    }

    /// <summary>The path it works on.</summary>
    public PlanarStereo Sound => new(buffer.Left, buffer.Right);

    /// <summary>True when it is nothing but its processor: whole, both sides, no key of its own, no dry sound.</summary>
    public bool CanJoinGroup => !hasKey && dry is null && budget is null && scope == StereoScope.Stereo;

    /// <summary>In place of <see cref="Run"/>, first part: takes messages in; false when the step must run alone.</summary>
    public bool PrepareForGroup()
    {
        mailbox.Deliver(guarded.Processor);
        ReceiveShare();
        return !IsPassedBy;
    }

    /// <summary>In place of <see cref="Run"/>, last part, once the group has processed the path.</summary>
    public void FinishInGroup(in PlanBlock block, bool hasThrown)
    {
        Span<float> left = buffer.Left.AsSpan(0, block.Frames);
        Span<float> right = buffer.Right.AsSpan(0, block.Frames);
        ProcessorFault fault = hasThrown ? ProcessorFault.Threw : guarded.Judge(left, right);
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
        Fault = Fault == ProcessorFault.Hung ? Fault : guarded.Reset();
        passedFrames = 0;
        dryDelay?.Reset();
        wet.Arrive();
        fade.Reset();
        budget?.Reset();
        TakeReductionDb();
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
            mailbox.Deliver(guarded.Processor);
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
            guarded.Hear(left, right);
            ProcessorFault fault = scope == StereoScope.Stereo
                ? guarded.Process(left, right)
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

    // The thread was lost behind the dry sound's delay and before anything was put into the path.
    public override void FinishWithoutProcessor(in PlanBlock block)
    {
        Span<float> left = buffer.Left.AsSpan(0, block.Frames);
        Span<float> right = buffer.Right.AsSpan(0, block.Frames);
        Fail(ProcessorFault.Hung, left, right, dry!.Left.AsSpan(0, block.Frames), dry.Right.AsSpan(0, block.Frames));
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
        if (!guarded.TryReduction(out float reduction))
        {
            return ProcessorFault.Threw;
        }

        if (reduction < Volatile.Read(ref deepestReductionDb) && (dry is null || !wet.IsNone))
        {
            Volatile.Write(ref deepestReductionDb, reduction);
        }

        return ProcessorFault.None;
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

    private ProcessorFault ProcessPart(Span<float> left, Span<float> right, ReadOnlySpan<float> dryLeft, ReadOnlySpan<float> dryRight)
    {
        Span<float> centre = part!.Left.AsSpan(0, left.Length);
        Span<float> silence = part.Right.AsSpan(0, left.Length);
        MidSide.Extract(scope, left, right, centre);
        silence.Clear();
        ProcessorFault fault = guarded.Process(centre, silence);
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
