namespace LiveStems.Processing.Contract;

/// <summary>
/// One unit of processing: stereo in, stereo out, in place.
/// </summary>
/// <remarks>
/// <para>
/// Life: construct → <see cref="SetParameter"/> any number of times → <see cref="Prepare"/> (control thread; the only
/// place that may allocate) → on the audio thread <see cref="Process"/>, <see cref="SetParameter"/> for parameters that
/// are not structural, and <see cref="Reset"/>, none of which allocates, locks, waits, does I/O or throws.
/// </para>
/// <para>
/// The output does not depend on how the sound is cut into blocks. A changed value takes effect at the next multiple of
/// <see cref="ControlInterval"/> frames since reset and glides there over <see cref="GlideMilliseconds"/> in the domain
/// of its taper; while anything glides, <see cref="ProcessSegment"/> never sees a span across such a multiple. The
/// interval after the last step still counts as gliding, so a processor may ramp from one step to the next inside it.
/// </para>
/// </remarks>
public abstract class Processor
{
    /// <summary>Frames between two steps of a gliding parameter.</summary>
    public const int ControlInterval = 32;

    /// <summary>Time a changed parameter takes to arrive.</summary>
    public const double GlideMilliseconds = 10;

    private const int TinyStateInterval = 4096;

    private readonly double[] targets;
    private readonly double[] values;
    private readonly int[] stepsLeft;
    private int gliding;
    private bool arriving;
    private int clock;
    private bool prepared;

    /// <summary>Starts with every parameter at its default.</summary>
    protected Processor(ProcessorDescription description)
    {
        Description = description;
        int count = description.Parameters.Count;
        targets = new double[count];
        values = new double[count];
        stepsLeft = new int[count];
        for (int i = 0; i < count; i++)
        {
            targets[i] = values[i] = description.Parameters[i].Default;
        }
    }

    /// <summary>What this processor is.</summary>
    public ProcessorDescription Description { get; }

    /// <summary>Frames between input and output, exact; valid and constant after <see cref="Prepare"/>.</summary>
    public virtual int LatencyFrames => 0;

    /// <summary>
    /// The deepest gain reduction of the last <see cref="Process"/> call in decibels, 0 or below; 0 for processors
    /// without gain reduction.
    /// </summary>
    public virtual float GainReductionDb => 0;

    /// <summary>What the processor was prepared for.</summary>
    protected ProcessingFormat Format { get; private set; }

    /// <summary>Frames since the last multiple of <see cref="ControlInterval"/>; 0 when a glide has just stepped.</summary>
    protected int IntervalPosition => clock % ControlInterval;

    /// <summary>Control steps that <see cref="GlideMilliseconds"/> take, at least 1; for fades that last as long as a glide.</summary>
    protected int GlideSteps { get; private set; } = 1;

    /// <summary>True while any parameter is on its way to a new value.</summary>
    protected bool IsGliding => gliding > 0 || arriving;

    /// <summary>The value a parameter was last set to, in its unit.</summary>
    public double GetParameter(int index) => targets[index];

    /// <summary>
    /// Sets a parameter, in its unit; values outside the range are clamped, NaN means the default. Before
    /// <see cref="Prepare"/> it takes effect at once. Afterwards it glides (stepped parameters jump at the next control
    /// step) and structural parameters are ignored.
    /// </summary>
    public void SetParameter(int index, double value)
    {
        ParameterSpec spec = Description.Parameters[index];
        double inside = spec.Clamp(value);
        if (!prepared)
        {
            targets[index] = values[index] = inside;
            return;
        }

        if (spec.IsStructural || targets[index] == inside)
        {
            return;
        }

        if (stepsLeft[index] == 0)
        {
            gliding++;
        }

        targets[index] = inside;
        stepsLeft[index] = spec.Taper == Taper.Stepped ? 1 : GlideSteps;
    }

    /// <summary>Allocates everything and sets the state as if from silence. Control thread only.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The format is outside the ranges that <see cref="ProcessingFormat"/> states.</exception>
    public void Prepare(ProcessingFormat format)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(format.SampleRate, 8_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(format.SampleRate, 384_000);
        ArgumentOutOfRangeException.ThrowIfLessThan(format.MaximumFrames, 1);
        Format = format;
        GlideSteps = Math.Max(1, (int)Math.Round(GlideMilliseconds * format.SampleRate / (1000.0 * ControlInterval)));
        OnPrepare();
        prepared = true;
        Reset();
    }

    /// <summary>State as if from silence, every glide arrived. Allocates nothing.</summary>
    public void Reset()
    {
        clock = 0;
        gliding = 0;
        arriving = false;
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = targets[i];
            stepsLeft[i] = 0;
        }

        OnReset();
    }

    /// <summary>Processes a block of 1 to <see cref="ProcessingFormat.MaximumFrames"/> frames in place.</summary>
    public void Process(in StereoBlock block)
    {
        OnBlockStart();
        int done = 0;
        while (done < block.Frames)
        {
            if (clock % ControlInterval == 0)
            {
                StepControl();
            }

            int limit = TinyStateInterval - clock;
            if (IsGliding || SegmentsFollowControlInterval)
            {
                limit = ControlInterval - clock % ControlInterval;
            }

            int frames = Math.Min(limit, block.Frames - done);
            ProcessSegment(block.Slice(done, frames));
            done += frames;
            Pass(frames);
        }
    }

    /// <summary>
    /// A group that runs processors of this one's kind side by side, faster than each alone; null where there is none.
    /// Called once on any member, prepared like all others, by drivers that render.
    /// </summary>
    /// <param name="members">Two or more processors of one kind, this one among them.</param>
    public virtual ProcessorGroup? GroupOf(IReadOnlyList<Processor> members) => null;

    /// <summary>True while nothing moves and no control work is due.</summary>
    internal bool StandsStill => !IsGliding && !SegmentsFollowControlInterval;

    /// <summary>Frames until <see cref="FlushTinyState"/> is due.</summary>
    internal int FramesToTinyState => TinyStateInterval - clock;

    /// <summary>Begins a block that a group processes.</summary>
    internal void StartBlock() => OnBlockStart();

    /// <summary>Counts frames that were processed, at most <see cref="FramesToTinyState"/>.</summary>
    internal void Pass(int frames)
    {
        clock += frames;
        if (clock >= TinyStateInterval)
        {
            clock = 0;
            FlushTinyState();
        }
    }

    /// <summary>
    /// True while a processor has control work of its own to do every <see cref="ControlInterval"/> frames: then no segment
    /// crosses such a multiple, glide or not, and <see cref="OnControlStep"/> is called at each. It may change at control
    /// steps and at reset.
    /// </summary>
    protected virtual bool SegmentsFollowControlInterval => false;

    /// <summary>The present value of a parameter, in its unit; gliding.</summary>
    protected double Value(int index) => values[index];

    /// <summary>The present value of a stepped parameter as a whole number.</summary>
    protected int Choice(int index) => (int)values[index];

    /// <summary>The present value of a switch.</summary>
    protected bool IsOn(int index) => values[index] >= 0.5;

    /// <summary>Allocates buffers and computes what depends on the sample rate; <see cref="OnReset"/> follows.</summary>
    protected abstract void OnPrepare();

    /// <summary>Clears all state and recomputes everything that depends on parameter values. Must not allocate.</summary>
    protected abstract void OnReset();

    /// <summary>
    /// Called when parameter values have moved by one step, at a multiple of <see cref="ControlInterval"/>, and once more
    /// at the multiple after the last step, when they stand still: a ramp from the previous values to the present ones
    /// has then arrived.
    /// </summary>
    protected abstract void OnParametersMoved();

    /// <summary>
    /// Called at multiples of <see cref="ControlInterval"/>: after <see cref="OnParametersMoved"/>, and without it while
    /// <see cref="SegmentsFollowControlInterval"/> is true. The place for fades and other control work that outlasts a glide.
    /// </summary>
    protected virtual void OnControlStep()
    {
    }

    /// <summary>Called once before the segments of a block, to restart meters.</summary>
    protected virtual void OnBlockStart()
    {
    }

    /// <summary>Processes frames whose parameters stand still, or move from one control step towards the next.</summary>
    protected abstract void ProcessSegment(in StereoBlock segment);

    /// <summary>
    /// Called every 4096 frames: set state below 1e-20 to zero, so that silence never runs on subnormal numbers.
    /// </summary>
    protected virtual void FlushTinyState()
    {
    }

    private void StepControl()
    {
        bool hasMoved = IsGliding;
        if (hasMoved)
        {
            arriving = gliding > 0;
            StepGlides();
            OnParametersMoved();
        }

        if (hasMoved || SegmentsFollowControlInterval)
        {
            OnControlStep();
        }
    }

    private void StepGlides()
    {
        for (int i = 0; i < values.Length; i++)
        {
            if (stepsLeft[i] == 0)
            {
                continue;
            }

            // Each step is an exact share of what is left, so the last one lands on the target.
            double share = 1.0 / stepsLeft[i];
            values[i] = stepsLeft[i] == 1
                ? targets[i]
                : Description.Parameters[i].Taper == Taper.Logarithmic
                    ? values[i] * Math.Pow(targets[i] / values[i], share)
                    : values[i] + (targets[i] - values[i]) * share;
            stepsLeft[i]--;
            if (stepsLeft[i] == 0)
            {
                gliding--;
            }
        }
    }
}
