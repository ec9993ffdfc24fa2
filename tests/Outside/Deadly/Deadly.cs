using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using LiveStems.Processing.Contract;

namespace Outside.Deadly;

/// <summary>What would end the program, or make it stand still; good until frame <see cref="GoodFrames"/>.</summary>
public abstract class Deadly : Processor
{
    /// <summary>Frames for which each of them behaves, 0.5 s at 48 kHz.</summary>
    public const int GoodFrames = 24_000;

    private long frames;

    /// <summary>With a description of no parameters.</summary>
    protected Deadly(string id)
        : base(new ProcessorDescription(id, id, 1, "Ends what it runs in.", [], false))
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

/// <summary>Calls itself until there is no more stack.</summary>
public sealed class Overflows() : Deadly("deadly-overflow")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) => Deeper(segment.Frames);

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static int Deeper(int depth) => Deeper(depth + 1) + Deeper(depth + 2);
}

/// <summary>Writes where there is no memory.</summary>
public sealed class WritesNowhere() : Deadly("deadly-access")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) => Marshal.WriteByte(unchecked((nint)0x6FFF_FFFF_F000), 1);
}

/// <summary>Writes beyond the block it was given, as if that were longer.</summary>
public sealed class WritesBeyond() : Deadly("deadly-length")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) =>
        MemoryMarshal.CreateSpan(ref segment.Left[0], segment.Frames + 64).Fill(0.5f);
}

/// <summary>Starts a thread in every block; every other one keeps its process alive while it lives.</summary>
public sealed class SpawnsThreads() : Deadly("deadly-threads")
{
    private int started;

    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) =>
        new Thread(() => Thread.Sleep(20)) { IsBackground = ++started % 2 == 0 }.Start();
}

/// <summary>Throws on a thread of its own, where nobody can catch it.</summary>
public sealed class ThrowsElsewhere() : Deadly("deadly-thread-throws")
{
    /// <inheritdoc/>
    protected override void Misbehave(in StereoBlock segment) =>
        new Thread(() => throw new InvalidOperationException("the anchor drags")) { IsBackground = true }.Start();
}
