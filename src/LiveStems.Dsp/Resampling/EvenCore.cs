using System.Runtime.InteropServices;

namespace LiveStems.Dsp.Resampling;

/// <summary>Every output frame by taps of its own, four frames at a time: always the same work.</summary>
/// <remarks>
/// Crochiere and Rabiner, Multirate Digital Signal Processing, chapter 3 (polyphase structures); where the phases are too many
/// to store, Smith and Gossett, ICASSP 1984.
/// </remarks>
internal sealed class EvenCore : ResamplerCore
{
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

    public EvenCore(ResamplingRatio ratio)
    {
        this.ratio = ratio;
        rows = FilterRows.For(ratio);
        window = new InputWindow(rows.Layout.WindowFrames, ChunkFrames);
        indexStep = RowLayout.GroupSize % ratio.Up;
        (inputStep, phaseStep) = Math.DivRem(RowLayout.GroupSize * ratio.Down, ratio.Up);
    }

    public override long End => window.End;

    public override void Restart(long outputFrame)
    {
        groupTaken = (int)(outputFrame % RowLayout.GroupSize);
        groupIsReady = false;
        (groupInput, groupPhase) = ratio.Locate(outputFrame - groupTaken);
        groupIndex = (int)((outputFrame - groupTaken) % ratio.Up);
        window.Restart(groupInput - (rows.Layout.HalfTaps - 1));
    }

    public override int Take(Span<float> left, Span<float> right)
    {
        int produced = 0;
        while (produced < left.Length)
        {
            if (groupIsReady)
            {
                produced += HandOut(left[produced..], right[produced..]);
            }
            else if (!window.MoveTo(groupInput - (rows.Layout.HalfTaps - 1)))
            {
                break;
            }
            else if (groupTaken == 0 && left.Length - produced >= RowLayout.GroupSize)
            {
                ComputeGroup(ref left[produced], ref right[produced]);
                produced += RowLayout.GroupSize;
                AdvanceGroup();
            }
            else
            {
                ComputeGroup(ref leftGroup[0], ref rightGroup[0]);
                groupIsReady = true;
            }
        }

        return produced;
    }

    public override int Append(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => window.Append(left, right);

    public override void AppendSilence() => window.AppendSilence();

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
