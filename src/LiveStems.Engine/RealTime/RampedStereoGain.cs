using LiveStems.Dsp.Simd;

namespace LiveStems.Engine.RealTime;

/// <summary>A gain for each side that arrives at a new value along a straight ramp.</summary>
internal sealed class RampedStereoGain(int rampFrames, float left, float right)
{
    private readonly int rampFrames = rampFrames;
    private float fromLeft = left;
    private float fromRight = right;
    private float toLeft = left;
    private float toRight = right;
    private int position = rampFrames;

    /// <summary>True when both sides stand still at zero.</summary>
    public bool IsSilent => position >= rampFrames && toLeft == 0 && toRight == 0;

    /// <summary>Sets off for new gains from wherever the ramp now is.</summary>
    public void MoveTo(float newLeft, float newRight)
    {
        if (newLeft == toLeft && newRight == toRight)
        {
            return;
        }

        float share = Math.Min(1, (float)position / rampFrames);
        fromLeft += (toLeft - fromLeft) * share;
        fromRight += (toRight - fromRight) * share;
        toLeft = newLeft;
        toRight = newRight;
        position = 0;
    }

    /// <summary>Arrives at once.</summary>
    public void Arrive() => position = rampFrames;

    /// <summary>Adds the source, scaled, to the destination.</summary>
    public void Add(ReadOnlySpan<float> sourceLeft, ReadOnlySpan<float> sourceRight, Span<float> left, Span<float> right)
    {
        int ramp = Math.Min(left.Length, rampFrames - position);
        if (ramp > 0)
        {
            float share = 1f / rampFrames;
            Planar.AddRamped(sourceLeft[..ramp], fromLeft, (toLeft - fromLeft) * share, position + 1, left[..ramp]);
            Planar.AddRamped(sourceRight[..ramp], fromRight, (toRight - fromRight) * share, position + 1, right[..ramp]);
            position += ramp;
        }
        else
        {
            ramp = 0;
        }

        if (!IsSilent && ramp < left.Length)
        {
            Planar.AddScaled(sourceLeft[ramp..], toLeft, left[ramp..]);
            Planar.AddScaled(sourceRight[ramp..], toRight, right[ramp..]);
        }
    }
}
