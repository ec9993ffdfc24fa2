namespace LiveStems.Engine.Offline;

/// <summary>
/// Passes the body of a song on, and of what sounds after it just as much as can be heard: up to the last frame at or
/// above −120 dBFS, looking no further than 10 s and giving up after a quarter of a second below it.
/// </summary>
public sealed class TailTrimmer
{
    private const float Audible = 1e-6f;
    private const double LongestTailSeconds = 10;
    private const double QuietSeconds = 0.25;

    private readonly IRenderSink sink;
    private readonly long bodyFrames;
    private readonly long lastFrame;
    private readonly float[] heldLeft;
    private readonly float[] heldRight;
    private long toSkip;
    private long position;
    private int held;

    /// <summary>Stands at the start of a render.</summary>
    /// <param name="sink">Takes what is kept.</param>
    /// <param name="latencyFrames">Frames to drop at the start.</param>
    /// <param name="bodyFrames">Frames that are always kept.</param>
    /// <param name="sampleRate">Frames per second.</param>
    public TailTrimmer(IRenderSink sink, int latencyFrames, long bodyFrames, int sampleRate)
    {
        this.sink = sink;
        this.bodyFrames = bodyFrames;
        toSkip = latencyFrames;
        lastFrame = bodyFrames + (long)(LongestTailSeconds * sampleRate);
        int quietFrames = (int)(QuietSeconds * sampleRate);
        heldLeft = new float[quietFrames];
        heldRight = new float[quietFrames];
    }

    /// <summary>True when nothing audible will follow.</summary>
    public bool IsFinished => position >= bodyFrames && (held == heldLeft.Length || position + held >= lastFrame);

    /// <summary>Frames passed on.</summary>
    public long DeliveredFrames => position;

    /// <summary>Takes the next frames.</summary>
    public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        int skipped = (int)Math.Min(toSkip, left.Length);
        toSkip -= skipped;
        int body = (int)Math.Clamp(bodyFrames - position, 0, left.Length - skipped);
        Deliver(left.Slice(skipped, body), right.Slice(skipped, body));
        for (int i = skipped + body; i < left.Length && !IsFinished; i++)
        {
            heldLeft[held] = left[i];
            heldRight[held] = right[i];
            held++;
            if (MathF.Abs(left[i]) >= Audible || MathF.Abs(right[i]) >= Audible)
            {
                Deliver(heldLeft.AsSpan(0, held), heldRight.AsSpan(0, held));
                held = 0;
            }
        }
    }

    private void Deliver(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (left.Length > 0)
        {
            sink.Write(left, right);
            position += left.Length;
        }
    }
}
