using LiveStems.Dsp.Simd;

namespace LiveStems.Analysis.Headroom;

/// <summary>A block of a stereo sum that does not depend on the order of what is added (<see cref="ExactSum"/>).</summary>
/// <param name="mostFrames">The longest block.</param>
internal sealed class StereoSum(int mostFrames)
{
    private readonly double[] left = new double[mostFrames];
    private readonly double[] right = new double[mostFrames];

    /// <summary>Begins with the first frames of silence.</summary>
    public void Clear(int frames)
    {
        left.AsSpan(0, frames).Clear();
        right.AsSpan(0, frames).Clear();
    }

    /// <summary>Adds a sound.</summary>
    public void Add(in PlanarStereo sound, int frames)
    {
        ExactSum.Add(sound.Left.AsSpan(0, frames), left);
        ExactSum.Add(sound.Right.AsSpan(0, frames), right);
    }

    /// <summary>Takes a sound away.</summary>
    public void Subtract(in PlanarStereo sound, int frames)
    {
        ExactSum.Subtract(sound.Left.AsSpan(0, frames), left);
        ExactSum.Subtract(sound.Right.AsSpan(0, frames), right);
    }

    /// <summary>The sum in single precision.</summary>
    public void Round(in PlanarStereo sound, int frames)
    {
        ExactSum.Round(left.AsSpan(0, frames), sound.Left);
        ExactSum.Round(right.AsSpan(0, frames), sound.Right);
    }

    /// <summary>What single precision leaves of the sum.</summary>
    public void Rest(in PlanarStereo sound, int frames)
    {
        ExactSum.Rest(left.AsSpan(0, frames), sound.Left);
        ExactSum.Rest(right.AsSpan(0, frames), sound.Right);
    }
}
