using LiveStems.Processing.Contract;

namespace Outside.Hostile;

/// <summary>What the bad ones have in common: nothing to prepare, and good until frame <see cref="GoodFrames"/>.</summary>
public abstract class Hostile : Processor
{
    /// <summary>Frames for which each of them behaves, 0.1 s at 48 kHz.</summary>
    public const int GoodFrames = 4800;

    private long frames;

    /// <summary>With a description of no parameters.</summary>
    protected Hostile(string id)
        : base(new ProcessorDescription(id, id, 1, "Breaks the contract.", [], false))
    {
    }

    /// <summary>True once it shows what it is.</summary>
    protected bool IsBad => frames > GoodFrames;

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
        if (IsBad)
        {
            Misbehave(segment);
        }
    }

    /// <summary>Does what it should not.</summary>
    protected abstract void Misbehave(in StereoBlock segment);
}

/// <summary>Throws.</summary>
public sealed class Throws() : Hostile("hostile-throws")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) => throw new InvalidOperationException("the rope has parted");
}

/// <summary>Never returns.</summary>
public sealed class Hangs() : Hostile("hostile-hangs")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment)
    {
        while (segment.Frames > 0)
        {
            Thread.Sleep(10);
        }
    }
}

/// <summary>Allocates a megabyte a block.</summary>
public sealed class Allocates() : Hostile("hostile-allocates")
{
    private byte[] last = [];

    /// <summary>So that nobody leaves the array out.</summary>
    public int LastLength => last.Length;

    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) => last = new byte[1 << 20];
}

/// <summary>Gives what is no number.</summary>
public sealed class Unnumbers() : Hostile("hostile-nan")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) => segment.Left[segment.Frames / 2] = float.NaN;
}

/// <summary>Is louder than anything should be.</summary>
public sealed class Shouts() : Hostile("hostile-loud")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment)
    {
        for (int i = 0; i < segment.Frames; i++)
        {
            segment.Left[i] *= 1e4f;
        }
    }
}

/// <summary>Sounds different in other blocks.</summary>
public sealed class CountsBlocks() : Hostile("hostile-blocks")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) => segment.Left[0] *= 0.5f;
}

/// <summary>Keeps what sounded before a reset.</summary>
public sealed class Remembers() : Hostile("hostile-remembers")
{
    private float last;

    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment)
    {
        for (int i = 0; i < segment.Frames; i++)
        {
            last = 0.9f * last + 0.1f * segment.Left[i];
            segment.Left[i] -= last;
        }
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        base.OnReset();
        last += 0.01f;
    }
}

/// <summary>Declares another latency than it has.</summary>
public sealed class LiesAboutLatency() : Hostile("hostile-latency")
{
    /// <inheritdoc/>
    public override int LatencyFrames => 480;

    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment)
    {
    }
}

/// <summary>Declares more latency than any memory could make up for.</summary>
public sealed class DeclaresTooMuch() : Hostile("hostile-late")
{
    /// <inheritdoc/>
    public override int LatencyFrames => int.MaxValue;

    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment)
    {
    }
}

/// <summary>Throws wherever the program asks it anything but to process.</summary>
public sealed class ThrowsWhenAsked() : Hostile("hostile-asked")
{
    /// <inheritdoc/>
    public override float GainReductionDb => IsBad ? throw new InvalidOperationException("do not ask") : 0;

    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment)
    {
    }
}
