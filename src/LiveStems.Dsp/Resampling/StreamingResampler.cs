namespace LiveStems.Dsp.Resampling;

/// <summary>
/// Converts planar stereo from one sample rate to another: linear phase, no delay, exact positions, any rates from 8 to
/// 384 kHz.
/// </summary>
/// <remarks>
/// <para>
/// Output frame m sounds at input frame m·from/to exactly; before the first and after the last input frame lies silence.
/// Within 0.01 dB up to 0.907 of the lower rate's Nyquist frequency (20 kHz at 44.1 kHz); images and aliases at least
/// 140 dB down. The output depends neither on block sizes nor, after <see cref="Reset"/>, on where the stream was
/// entered: every output frame has the same bits in every case. Equal rates pass the sound through unchanged.
/// </para>
/// <para>
/// All memory is taken by the constructor; nothing else allocates. One thread at a time; the tables of a pair of rates
/// are designed once and shared by all resamplers. The filter is that of <see cref="ResamplingPrototype"/> at either pace:
/// in blocks it is done by transforms (<see cref="SpectralStage"/>) with short filters before and after
/// (<see cref="StagePlan"/>), evenly by a sum for every frame (<see cref="EvenCore"/>).
/// </para>
/// </remarks>
public sealed class StreamingResampler
{
    /// <summary>The lowest rate either side may have, in hertz.</summary>
    public const int LowestRate = 8_000;

    /// <summary>The highest rate either side may have, in hertz.</summary>
    public const int HighestRate = 384_000;

    private readonly ResamplingRatio ratio;
    private readonly ResamplerCore core;
    private bool inputHasEnded;
    private long endOfOutput;

    /// <summary>Designs the filter, unless it was designed for these rates before, and takes all memory; at the state <see cref="Reset"/> gives for frame 0.</summary>
    /// <param name="fromRate">Rate of the input in hertz.</param>
    /// <param name="toRate">Rate of the output in hertz.</param>
    /// <param name="pace">When the work is done; the sound of both differs by rounding alone.</param>
    /// <exception cref="ArgumentOutOfRangeException">A rate is outside <see cref="LowestRate"/> to <see cref="HighestRate"/>.</exception>
    public StreamingResampler(int fromRate, int toRate, ResamplingPace pace = ResamplingPace.Blocks)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(fromRate, LowestRate);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(fromRate, HighestRate);
        ArgumentOutOfRangeException.ThrowIfLessThan(toRate, LowestRate);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(toRate, HighestRate);
        FromRate = fromRate;
        ToRate = toRate;
        ratio = new ResamplingRatio(fromRate, toRate);
        core = pace == ResamplingPace.Even || fromRate == toRate
            ? new EvenCore(ratio)
            : new StageChain(StagePlan.Make(fromRate, toRate));
        Reset();
    }

    /// <summary>Rate of the input in hertz.</summary>
    public int FromRate { get; }

    /// <summary>Rate of the output in hertz.</summary>
    public int ToRate { get; }

    /// <summary>The output frame that comes next.</summary>
    public long Position { get; private set; }

    /// <summary>The input frame to feed next.</summary>
    public long InputPosition { get; private set; }

    /// <summary>True when <see cref="Finish"/> was called and every output frame has been handed out.</summary>
    public bool IsFinished => Position >= endOfOutput;

    /// <summary>How many output frames belong to so many input frames: ⌈frames·to/from⌉.</summary>
    public long OutputFrames(long inputFrames) => ratio.OutputFrames(inputFrames);

    /// <summary>
    /// Starts afresh at an output frame and returns the input frame to feed from: then the output is bit for bit that of
    /// an unbroken run. The answer may lie at or beyond the end of the input; then nothing remains but <see cref="Finish"/>.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The frame is negative.</exception>
    public long Reset(long outputFrame = 0)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(outputFrame);
        core.Restart(outputFrame);
        Position = outputFrame;
        InputPosition = Math.Max(0, core.End);
        inputHasEnded = false;
        endOfOutput = long.MaxValue;
        return InputPosition;
    }

    /// <summary>
    /// Takes input and gives output until one of them runs out. The right spans are at least as long as the left ones,
    /// whose lengths count; either pair may be empty. While output is wanted and none came, all input was consumed and more
    /// is needed: ahead of the output about 100 periods of the lower rate at an even pace, some ten thousand frames in blocks.
    /// </summary>
    public void Process(
        ReadOnlySpan<float> leftInput,
        ReadOnlySpan<float> rightInput,
        Span<float> leftOutput,
        Span<float> rightOutput,
        out int consumed,
        out int produced)
    {
        rightInput = rightInput[..leftInput.Length];
        rightOutput = rightOutput[..leftOutput.Length];
        consumed = 0;
        produced = 0;
        int wanted = (int)Math.Min(leftOutput.Length, endOfOutput - Position);
        while (produced < wanted)
        {
            int taken = core.Take(leftOutput[produced..wanted], rightOutput[produced..wanted]);
            produced += taken;
            if (taken > 0)
            {
                continue;
            }

            if (inputHasEnded)
            {
                core.AppendSilence();
            }
            else if (consumed < leftInput.Length)
            {
                consumed += core.Append(leftInput[consumed..], rightInput[consumed..]);
            }
            else
            {
                break;
            }
        }

        InputPosition += consumed;
        Position += produced;
    }

    /// <summary>
    /// Says that no input follows: silence follows the last input frame, and the output ends at <see cref="OutputFrames"/>
    /// of <see cref="InputPosition"/>.
    /// </summary>
    public void Finish()
    {
        inputHasEnded = true;
        endOfOutput = Math.Max(Position, OutputFrames(InputPosition));
    }
}
