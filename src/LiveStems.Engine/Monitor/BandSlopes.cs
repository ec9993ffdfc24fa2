using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Monitor;

/// <summary>
/// The band at either slope, 24 or 48 dB/oct. Only the one that is heard runs; the other first runs along unheard until it
/// has settled, then both are cross-faded.
/// </summary>
internal sealed class BandSlopes(double sampleRate, int stepFrames, int fadeFrames)
{
    // Four periods of the lower edge let the slowest pole pair of order 8 (Q 2.56) decay by 43 dB.
    private const double SettlePeriods = 4;
    private const double LongestSettleSeconds = 0.5;

    private readonly BandFilter[] filters = [new(4, sampleRate), new(8, sampleRate)];
    private readonly StereoBuffer other = new(stepFrames);
    private Glide steepShare;
    private int wanted;
    private int settleFrames;

    /// <summary>Takes everything at once, as from silence.</summary>
    public void Jump(in BandEdges edges, bool isSteep)
    {
        wanted = isSteep ? 1 : 0;
        settleFrames = 0;
        steepShare.Jump(wanted);
        filters[wanted].Start(edges);
    }

    /// <summary>Begins a control step, at whose end the edges are to be reached.</summary>
    public void StartStep(in BandEdges edges, bool isSteep)
    {
        Choose(edges, isSteep ? 1 : 0);
        for (int i = 0; i < filters.Length; i++)
        {
            if (Runs(i))
            {
                filters[i].MoveTo(edges, stepFrames);
            }
        }
    }

    /// <summary>Filters both sides, in place; a part of a control step.</summary>
    public void Process(Span<float> left, Span<float> right)
    {
        if (!(Runs(0) && Runs(1)))
        {
            filters[wanted].Process(left, right);
            return;
        }

        Span<float> steepLeft = other.Left.AsSpan(0, left.Length);
        Span<float> steepRight = other.Right.AsSpan(0, left.Length);
        left.CopyTo(steepLeft);
        right.CopyTo(steepRight);
        filters[0].Process(left, right);
        filters[1].Process(steepLeft, steepRight);
        for (int i = 0; i < left.Length; i++)
        {
            double share = steepShare.Advance(1);
            left[i] = (float)(left[i] + share * ((double)steepLeft[i] - left[i]));
            right[i] = (float)(right[i] + share * ((double)steepRight[i] - right[i]));
        }
    }

    /// <summary>Ends a control step.</summary>
    public void EndStep()
    {
        filters[0].FlushTinyState();
        filters[1].FlushTinyState();
    }

    private void Choose(in BandEdges edges, int slope)
    {
        if (slope != wanted)
        {
            if (!Runs(slope))
            {
                filters[slope].Start(edges);
                double settleSeconds = Math.Min(SettlePeriods / edges.LowerHz, LongestSettleSeconds);
                settleFrames = (int)(settleSeconds * sampleRate);
            }

            wanted = slope;
        }

        settleFrames = Math.Max(0, settleFrames - stepFrames);
        if (settleFrames == 0)
        {
            steepShare.MoveTo(wanted, fadeFrames);
        }
    }

    private bool Runs(int slope) => slope == wanted || steepShare.IsMoving || steepShare.Target == slope;
}
