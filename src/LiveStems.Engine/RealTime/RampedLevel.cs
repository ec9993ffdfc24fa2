namespace LiveStems.Engine.RealTime;

/// <summary>A share of 0 to 1 that arrives at a new value along a straight ramp, and blends two signals by it.</summary>
internal sealed class RampedLevel(int rampFrames, float share)
{
    private readonly int rampFrames = rampFrames;
    private float posted = share;
    private float from = share;
    private float to = share;
    private int position = rampFrames;

    /// <summary>True when it stands still at 1.</summary>
    public bool IsWhole => to == 1 && position >= rampFrames;

    /// <summary>True when it stands still at 0.</summary>
    public bool IsNone => to == 0 && position >= rampFrames;

    /// <summary>Control thread: asks for a new share; of several the last one counts.</summary>
    public void Post(float newShare) => Volatile.Write(ref posted, newShare);

    /// <summary>Audio thread: sets off for the share that was asked for, from wherever the ramp now is.</summary>
    public void Receive()
    {
        float wanted = Volatile.Read(ref posted);
        if (wanted != to)
        {
            from += (to - from) * Math.Min(1, (float)position / rampFrames);
            to = wanted;
            position = 0;
        }
    }

    /// <summary>Arrives at once.</summary>
    public void Arrive()
    {
        to = Volatile.Read(ref posted);
        position = rampFrames;
    }

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
