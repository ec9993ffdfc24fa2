namespace LiveStems.Engine.Monitor;

/// <summary>Stereo, mono or side, swapped or not; a change is a cross-fade.</summary>
internal sealed class ChannelChoice
{
    private ChannelWeights target = ChannelWeights.Stereo;
    private Glide leftOfLeft = new(1);
    private Glide leftOfRight;
    private Glide rightOfLeft;
    private Glide rightOfRight = new(1);

    private bool IsPlainStereo =>
        target == ChannelWeights.Stereo
        && !leftOfLeft.IsMoving && !leftOfRight.IsMoving && !rightOfLeft.IsMoving && !rightOfRight.IsMoving;

    /// <summary>Takes a choice at once.</summary>
    public void Jump(in ChannelWeights weights)
    {
        target = weights;
        leftOfLeft.Jump(weights.LeftOfLeft);
        leftOfRight.Jump(weights.LeftOfRight);
        rightOfLeft.Jump(weights.RightOfLeft);
        rightOfRight.Jump(weights.RightOfRight);
    }

    /// <summary>Sets off for another choice.</summary>
    public void MoveTo(in ChannelWeights weights, int frames)
    {
        target = weights;
        leftOfLeft.MoveTo(weights.LeftOfLeft, frames);
        leftOfRight.MoveTo(weights.LeftOfRight, frames);
        rightOfLeft.MoveTo(weights.RightOfLeft, frames);
        rightOfRight.MoveTo(weights.RightOfRight, frames);
    }

    /// <summary>Mixes both sides, in place.</summary>
    public void Process(Span<float> left, Span<float> right)
    {
        if (IsPlainStereo)
        {
            return;
        }

        for (int i = 0; i < left.Length; i++)
        {
            double l = left[i];
            double r = right[i];
            left[i] = (float)(leftOfLeft.Advance(1) * l + leftOfRight.Advance(1) * r);
            right[i] = (float)(rightOfLeft.Advance(1) * l + rightOfRight.Advance(1) * r);
        }
    }
}
