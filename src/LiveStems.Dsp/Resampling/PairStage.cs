namespace LiveStems.Dsp.Resampling;

/// <summary>
/// One change of sample rate in a chain of several: stereo frames as pairs of doubles, computed in groups that lie on a grid
/// from output frame 0, so that every frame has the same bits however the stream is cut or entered.
/// </summary>
/// <remarks>
/// Input and output frame 0 sound at the same moment and nothing is delayed. Frames run to both sides of 0 without end: what
/// lies before the beginning and after the end of the sound is silence to the first stage, not to those behind it.
/// </remarks>
internal abstract class PairStage
{
    /// <summary>Output frames of a group.</summary>
    public abstract int GroupFrames { get; }

    /// <summary>Input frames that a group is computed from.</summary>
    public abstract int InputFrames { get; }

    /// <summary>The first of them. Group g begins at output frame g·<see cref="GroupFrames"/>.</summary>
    public abstract long FirstInput(long group);

    /// <summary>Computes <see cref="GroupFrames"/> pairs from <see cref="InputFrames"/>, left and right in turns.</summary>
    public abstract void Compute(long group, ReadOnlySpan<double> input, Span<double> output);
}
