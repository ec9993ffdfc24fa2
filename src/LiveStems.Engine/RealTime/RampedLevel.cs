namespace LiveStems.Engine.RealTime;

/// <summary>A share of 0 to 1 that arrives at a new value along a straight ramp, and blends two signals by it.</summary>
internal sealed class RampedLevel(int rampFrames, float share)
{
    private readonly int rampFrames = rampFrames;
    private float from = share;
    private float to = share;
    private int position = rampFrames;

    /// <summary>True when it stands still at 1.</summary>
    public bool IsWhole => to == 1 && position >= rampFrames;

    /// <summary>Sets off for a new share from wherever the ramp now is.</summary>
    public void MoveTo(float newShare)
    {
        if (newShare == to)
        {
            return;
        }

        from += (to - from) * Math.Min(1, (float)position / rampFrames);
        to = newShare;
        position = 0;
    }

    /// <summary>Arrives at once.</summary>
    public void Arrive() => position = rampFrames;

    /// <summary>changed = original + share · (changed − original), on both sides.</summary>
    public void Blend(
        ReadOnlySpan<float> originalLeft, Span<float> changedLeft, ReadOnlySpan<float> originalRight, Span<float> changedRight)
    {
        for (int i = 0; i < changedLeft.Length; i++)
        {
            float now = to;
            if (position < rampFrames)
            {
                position++;
                now = from + (to - from) * position / rampFrames;
            }

            changedLeft[i] = originalLeft[i] + now * (changedLeft[i] - originalLeft[i]);
            changedRight[i] = originalRight[i] + now * (changedRight[i] - originalRight[i]);
        }
    }
}
