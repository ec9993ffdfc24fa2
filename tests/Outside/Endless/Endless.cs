using LiveStems.Processing.Contract;

namespace Outside.Endless;

/// <summary>What would make the program stand still; good until frame <see cref="GoodFrames"/>.</summary>
public abstract class Endless : Processor
{
    /// <summary>Frames for which each of them behaves, 0.5 s at 48 kHz.</summary>
    public const int GoodFrames = 24_000;

    private long frames;

    /// <summary>With a description of no parameters.</summary>
    protected Endless(string id)
        : base(new ProcessorDescription(id, id, 1, "Never comes to an end.", [], false))
    {
    }

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
    }

    /// <inheritdoc/>
    protected override void OnReset() => frames = 0;

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
    }

    /// <inheritdoc/>
    protected sealed override void ProcessSegment(in StereoBlock segment)
    {
        frames += segment.Frames;
        if (frames > GoodFrames)
        {
            Misbehave(segment);
        }
    }

    /// <summary>Does what it should not.</summary>
    protected virtual void Misbehave(in StereoBlock segment)
    {
    }
}

/// <summary>Never returns once it plays.</summary>
public sealed class HangsLater() : Endless("endless-later")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) => Thread.Sleep(Timeout.Infinite);
}

/// <summary>Never returns from its preparation.</summary>
public sealed class HangsInPrepare() : Endless("endless-prepare")
{
    /// <inheritdoc/>
    protected override void OnPrepare() => Thread.Sleep(Timeout.Infinite);
}

/// <summary>Never returns from a reset.</summary>
public sealed class HangsInReset() : Endless("endless-reset")
{
    private bool isPrepared;

    /// <inheritdoc/>
    protected override void OnReset()
    {
        if (isPrepared)
        {
            Thread.Sleep(Timeout.Infinite);
        }

        // The reset that belongs to the preparation comes first.
        isPrepared = true;
        base.OnReset();
    }
}

/// <summary>Tells its latency once, and never returns when it is asked again.</summary>
public sealed class HangsWhenAskedAgain() : Endless("endless-asked")
{
    private bool isAsked;

    /// <inheritdoc/>
    public override int LatencyFrames
    {
        get
        {
            if (isAsked)
            {
                Thread.Sleep(Timeout.Infinite);
            }

            isAsked = true;
            return 0;
        }
    }
}

/// <summary>Leaves a thread behind that would keep its process alive for ever, and never lets an orderly end come to its own.</summary>
public sealed class LeavesAThread() : Endless("endless-thread")
{
    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        new Thread(() => Thread.Sleep(Timeout.Infinite)) { IsBackground = false }.Start();
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Thread.Sleep(Timeout.Infinite);
    }
}
