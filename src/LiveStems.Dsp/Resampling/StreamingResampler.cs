using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

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
/// are designed once and shared by all resamplers. Sources of the method: Crochiere and Rabiner, Multirate Digital Signal
/// Processing, chapter 3 (polyphase structures), Smith and Gossett, ICASSP 1984.
/// </para>
/// </remarks>
public sealed class StreamingResampler
{
    /// <summary>The lowest rate either side may have, in hertz.</summary>
    public const int LowestRate = 8_000;

    /// <summary>The highest rate either side may have, in hertz.</summary>
    public const int HighestRate = 384_000;

    private const int ChunkFrames = 4096;

    private readonly ResamplingRatio ratio;
    private readonly FilterRows rows;
    private readonly InputWindow window;
    private readonly float[] leftGroup = new float[RowLayout.GroupSize];
    private readonly float[] rightGroup = new float[RowLayout.GroupSize];
    private readonly int indexStep;
    private readonly int inputStep;
    private readonly int phaseStep;
    private long groupInput;
    private int groupPhase;
    private int groupIndex;
    private int groupTaken;
    private bool groupIsReady;
    private bool inputHasEnded;
    private long endOfOutput;

    /// <summary>Designs the filter, unless it was designed for these rates before, and takes all memory; at the state <see cref="Reset"/> gives for frame 0.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A rate is outside <see cref="LowestRate"/> to <see cref="HighestRate"/>.</exception>
    public StreamingResampler(int fromRate, int toRate)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(fromRate, LowestRate);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(fromRate, HighestRate);
        ArgumentOutOfRangeException.ThrowIfLessThan(toRate, LowestRate);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(toRate, HighestRate);
        FromRate = fromRate;
        ToRate = toRate;
        ratio = new ResamplingRatio(fromRate, toRate);
        rows = FilterRows.For(ratio);
        window = new InputWindow(rows.Layout.WindowFrames, ChunkFrames);
        indexStep = RowLayout.GroupSize % ratio.Up;
        (inputStep, phaseStep) = Math.DivRem(RowLayout.GroupSize * ratio.Down, ratio.Up);
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
        groupTaken = (int)(outputFrame % RowLayout.GroupSize);
        groupIsReady = false;
        (groupInput, groupPhase) = ratio.Locate(outputFrame - groupTaken);
        groupIndex = (int)((outputFrame - groupTaken) % ratio.Up);
        window.Restart(groupInput - (rows.Layout.HalfTaps - 1));
        Position = outputFrame;
        InputPosition = Math.Max(0, window.End);
        inputHasEnded = false;
        endOfOutput = long.MaxValue;
        return InputPosition;
    }

    /// <summary>
    /// Takes input and gives output until one of them runs out. The right spans are at least as long as the left ones,
    /// whose lengths count; either pair may be empty. While output is wanted and none came, all input was consumed and more is needed, about
    /// 100 periods of the lower rate ahead of the output.
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
            if (groupIsReady)
            {
                produced += HandOut(leftOutput[produced..wanted], rightOutput[produced..wanted]);
            }
            else if (window.MoveTo(groupInput - (rows.Layout.HalfTaps - 1)))
            {
                if (groupTaken == 0 && wanted - produced >= RowLayout.GroupSize)
                {
                    ComputeGroup(ref leftOutput[produced], ref rightOutput[produced]);
                    produced += RowLayout.GroupSize;
                    AdvanceGroup();
                }
                else
                {
                    ComputeGroup(ref leftGroup[0], ref rightGroup[0]);
                    groupIsReady = true;
                }
            }
            else if (inputHasEnded)
            {
                window.AppendSilence();
            }
            else if (consumed < leftInput.Length)
            {
                consumed += window.Append(leftInput[consumed..], rightInput[consumed..]);
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

    private void ComputeGroup(ref float left, ref float right)
    {
        ref readonly GroupOffsets offsets = ref rows.Select(groupIndex, groupPhase);
        GroupKernel.Compute(rows, offsets, ref window.Left, ref window.Right, ref left, ref right);
    }

    private int HandOut(Span<float> leftOutput, Span<float> rightOutput)
    {
        int frames = Math.Min(leftOutput.Length, RowLayout.GroupSize - groupTaken);
        leftGroup.AsSpan(groupTaken, frames).CopyTo(leftOutput);
        rightGroup.AsSpan(groupTaken, frames).CopyTo(rightOutput);
        groupTaken += frames;
        if (groupTaken == RowLayout.GroupSize)
        {
            AdvanceGroup();
        }

        return frames;
    }

    private void AdvanceGroup()
    {
        groupIsReady = false;
        groupTaken = 0;
        groupInput += inputStep;
        groupPhase += phaseStep;
        if (groupPhase >= ratio.Up)
        {
            groupPhase -= ratio.Up;
            groupInput++;
        }

        groupIndex += indexStep;
        if (groupIndex >= ratio.Up)
        {
            groupIndex -= ratio.Up;
        }
    }
}
