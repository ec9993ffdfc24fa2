using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Probe;

/// <summary>
/// What is done to the side of a stereo sound: what goes in goes in on the left alone, which is as much middle as side, and
/// what is measured is the difference of what comes out. A side without any middle would be what no music has, and what some
/// processors take as a fault to mend.
/// </summary>
/// <param name="probed">What is probed.</param>
public sealed class ProbedSide(IProbed probed) : IProbed
{
    /// <inheritdoc/>
    public int LatencyFrames => probed.LatencyFrames;

    /// <inheritdoc/>
    public void Prepare(ProcessingFormat format) => probed.Prepare(format);

    /// <inheritdoc/>
    public void Reset() => probed.Reset();

    /// <inheritdoc/>
    public void Process(Span<float> left, Span<float> right)
    {
        right.Clear();
        probed.Process(left, right);
        for (int i = 0; i < left.Length; i++)
        {
            left[i] -= right[i];
            right[i] = left[i];
        }
    }
}
