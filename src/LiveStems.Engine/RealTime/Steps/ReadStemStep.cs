using LiveStems.Dsp.Simd;

namespace LiveStems.Engine.RealTime.Steps;

/// <summary>Takes the next frames of a stem and turns over the sides whose polarity is inverted.</summary>
internal sealed class ReadStemStep(StemRing ring, StereoBuffer output, float leftGain, float rightGain) : PlanStep
{
    public override void Run(in PlanBlock block)
    {
        Span<float> left = output.Left.AsSpan(0, block.Frames);
        Span<float> right = output.Right.AsSpan(0, block.Frames);
        ring.Take(left, right);
        if (leftGain != 1)
        {
            Planar.Scale(left, leftGain, left);
        }

        if (rightGain != 1)
        {
            Planar.Scale(right, rightGain, right);
        }
    }

    public override void Reset()
    {
    }
}
