using LiveStems.Dsp.Filters;

namespace LiveStems.Processing.Processors.GainAndAlignment;

/// <summary>Polarity and swap as a two-by-two matrix of ramped gains.</summary>
internal struct ChannelMatrix
{
    private LinearRamp leftToLeft;
    private LinearRamp rightToLeft;
    private LinearRamp leftToRight;
    private LinearRamp rightToRight;

    public void Jump(bool invertLeft, bool invertRight, bool swap)
    {
        leftToLeft.Jump(swap ? 0 : Sign(invertLeft));
        rightToLeft.Jump(swap ? Sign(invertLeft) : 0);
        leftToRight.Jump(swap ? Sign(invertRight) : 0);
        rightToRight.Jump(swap ? 0 : Sign(invertRight));
    }

    public void MoveTo(bool invertLeft, bool invertRight, bool swap, int frames)
    {
        leftToLeft.MoveTo(swap ? 0 : Sign(invertLeft), frames);
        rightToLeft.MoveTo(swap ? Sign(invertLeft) : 0, frames);
        leftToRight.MoveTo(swap ? Sign(invertRight) : 0, frames);
        rightToRight.MoveTo(swap ? 0 : Sign(invertRight), frames);
    }

    public void Process(Span<float> left, Span<float> right)
    {
        int moving = Math.Max(
            Math.Max(leftToLeft.FramesLeft, rightToLeft.FramesLeft), Math.Max(leftToRight.FramesLeft, rightToRight.FramesLeft));
        moving = Math.Min(moving, left.Length);
        for (int n = 0; n < moving; n++)
        {
            (double l, double r) = (left[n], right[n]);
            left[n] = (float)(leftToLeft.Next() * l + rightToLeft.Next() * r);
            right[n] = (float)(leftToRight.Next() * l + rightToRight.Next() * r);
        }

        Stand(left[moving..], right[moving..]);
    }

    // The matrix at rest only exchanges the channels and turns them over.
    private readonly void Stand(Span<float> left, Span<float> right)
    {
        if (rightToLeft.Target != 0)
        {
            for (int n = 0; n < left.Length; n++)
            {
                (left[n], right[n]) = (right[n], left[n]);
            }
        }

        if (leftToLeft.Target + rightToLeft.Target < 0)
        {
            TurnOver(left);
        }

        if (leftToRight.Target + rightToRight.Target < 0)
        {
            TurnOver(right);
        }
    }

    private static void TurnOver(Span<float> sound)
    {
        foreach (ref float sample in sound)
        {
            sample = -sample;
        }
    }

    private static double Sign(bool isInverted) => isInverted ? -1 : 1;
}
