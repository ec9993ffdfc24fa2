namespace LiveStems.Dsp.Resampling;

/// <summary>Stages one behind the other, each with a window of what comes before it.</summary>
internal sealed class StageChain : ResamplerCore
{
    private readonly PairStage[] stages;
    private readonly PairWindow[] windows;
    private readonly long[] groups;
    private readonly double[] ready;
    private int readyStart;
    private int readyEnd;

    /// <summary>Takes all memory.</summary>
    public StageChain(PairStage[] stages)
    {
        this.stages = stages;
        windows = new PairWindow[stages.Length];
        for (int i = 0; i < stages.Length; i++)
        {
            windows[i] = new PairWindow(stages[i].InputFrames, i == 0 ? 0 : stages[i - 1].GroupFrames);
        }

        groups = new long[stages.Length];
        ready = new double[2 * stages[^1].GroupFrames];
    }

    public override long End => windows[0].End;

    public override void Restart(long outputFrame)
    {
        long frame = outputFrame;
        for (int i = stages.Length - 1; i >= 0; i--)
        {
            (groups[i], long within) = FloorDivision(frame, stages[i].GroupFrames);
            if (i == stages.Length - 1)
            {
                // Frames of the first group that lie before the entry are passed over.
                readyEnd = 0;
                readyStart = (int)within;
            }

            frame = stages[i].FirstInput(groups[i]);
            windows[i].Restart(i == 0 ? frame : FloorDivision(frame, stages[i - 1].GroupFrames).Quotient * stages[i - 1].GroupFrames);
        }
    }

    public override int Take(Span<float> left, Span<float> right)
    {
        int produced = 0;
        while (produced < left.Length)
        {
            if (readyStart >= readyEnd)
            {
                int passed = readyEnd == 0 ? readyStart : 0;
                if (!CanCompute(stages.Length - 1))
                {
                    break;
                }

                ComputeNext(stages.Length - 1, ready);

                readyStart = passed;
                readyEnd = stages[^1].GroupFrames;
            }

            int frames = Math.Min(left.Length - produced, readyEnd - readyStart);
            PairWindow.Separate(ready.AsSpan(2 * readyStart, 2 * frames), left[produced..], right[produced..]);
            readyStart += frames;
            produced += frames;
        }

        return produced;
    }

    public override int Append(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => windows[0].Append(left, right);

    public override void AppendSilence() => windows[0].AppendSilence(stages[0].InputFrames);

    private void ComputeNext(int index, Span<double> output)
    {
        stages[index].Compute(groups[index], windows[index].From(stages[index].InputFrames), output);
        groups[index]++;
    }

    /// <summary>Fills the windows before a stage until its next group can be computed; false where input is wanting.</summary>
    private bool CanCompute(int index)
    {
        long first = stages[index].FirstInput(groups[index]);
        while (!windows[index].Holds(first, stages[index].InputFrames))
        {
            if (index == 0 && windows[0].End < 0)
            {
                windows[0].AppendSilence((int)Math.Min(-windows[0].End, stages[0].InputFrames));
                continue;
            }

            if (index == 0 || !CanCompute(index - 1))
            {
                return false;
            }

            ComputeNext(index - 1, windows[index].Extend(stages[index - 1].GroupFrames));
        }

        return true;
    }

    private static (long Quotient, long Remainder) FloorDivision(long value, int divisor)
    {
        (long quotient, long remainder) = Math.DivRem(value, divisor);
        return remainder < 0 ? (quotient - 1, remainder + divisor) : (quotient, remainder);
    }
}
