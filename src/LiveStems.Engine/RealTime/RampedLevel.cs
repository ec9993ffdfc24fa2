using LiveStems.Engine.Monitor;

namespace LiveStems.Engine.RealTime;

/// <summary>A share of 0 to 1 that glides to each new value without a corner, and blends two signals by it.</summary>
internal sealed class RampedLevel(int rampFrames, float share)
{
    private readonly int rampFrames = rampFrames;
    private float posted = share;
    private Glide glide = new(share);

    /// <summary>True when it stands still at 1.</summary>
    public bool IsWhole => glide.Target == 1 && !glide.IsMoving;

    /// <summary>True when it stands still at 0.</summary>
    public bool IsNone => glide.Target == 0 && !glide.IsMoving;

    /// <summary>Control thread: asks for a new share; of several the last one counts.</summary>
    public void Post(float newShare) => Volatile.Write(ref posted, newShare);

    /// <summary>Audio thread: sets off for the share that was asked for, from wherever it now is.</summary>
    public void Receive() => MoveTo(Volatile.Read(ref posted));

    /// <summary>Audio thread: sets off for a share.</summary>
    public void MoveTo(float newShare) => glide.MoveTo(newShare, rampFrames);

    /// <summary>Stands at once at the share that was asked for.</summary>
    public void Arrive() => glide.Jump(Volatile.Read(ref posted));

    /// <summary>Stands at a share at once.</summary>
    public void PostAndArrive(float newShare)
    {
        Post(newShare);
        Arrive();
    }

    /// <summary>changed = original + share · (changed − original), on both sides.</summary>
    public void Blend(
        ReadOnlySpan<float> originalLeft, Span<float> changedLeft, ReadOnlySpan<float> originalRight, Span<float> changedRight)
    {
        for (int i = 0; i < changedLeft.Length; i++)
        {
            float now = (float)glide.Advance(1);
            changedLeft[i] = originalLeft[i] + now * (changedLeft[i] - originalLeft[i]);
            changedRight[i] = originalRight[i] + now * (changedRight[i] - originalRight[i]);
        }
    }
}
