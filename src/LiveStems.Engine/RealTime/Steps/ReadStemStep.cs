using LiveStems.Dsp.Simd;

namespace LiveStems.Engine.RealTime.Steps;

/// <summary>Brings a stem's input into its path, with the sides turned over whose polarity is inverted.</summary>
internal sealed class ReadStemStep(StereoBuffer input, StereoBuffer output, float leftGain, float rightGain) : PlanStep
{
    public override void Run(in PlanBlock block)
    {
        Bring(input.Left.AsSpan(0, block.Frames), leftGain, output.Left.AsSpan(0, block.Frames));
        Bring(input.Right.AsSpan(0, block.Frames), rightGain, output.Right.AsSpan(0, block.Frames));
    }

    public override void Reset()
    {
    }

    private static void Bring(ReadOnlySpan<float> from, float gain, Span<float> to)
    {
        if (gain == 1)
        {
            from.CopyTo(to);
        }
        else
        {
            Planar.Scale(from, gain, to);
        }
    }
}
