using LiveStems.Engine.Offline;

namespace LiveStems.Analysis.Delivery;

/// <summary>Drops a latency's frames from the start of what passes.</summary>
internal sealed class AlignedSink(IRenderSink sink, int latencyFrames) : IRenderSink
{
    private int toSkip = latencyFrames;

    /// <summary>Passes frames on.</summary>
    public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        int skipped = Math.Min(toSkip, left.Length);
        toSkip -= skipped;
        if (skipped < left.Length)
        {
            sink.Write(left[skipped..], right[skipped..]);
        }
    }
}
