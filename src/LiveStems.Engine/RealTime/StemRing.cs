using System.Numerics;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// Look-ahead of one stem between the thread that reads its file and the thread that plays it: a ring for one writer and
/// one reader, without locks.
/// </summary>
internal sealed class StemRing
{
    private readonly RingMemory left;
    private readonly RingMemory right;
    private readonly int mostFrames;
    private readonly int mask;
    private long written;
    private long taken;
    private long generation = -1;

    /// <param name="mostFrames">Frames it holds at most.</param>
    public StemRing(int mostFrames)
    {
        int capacity = (int)BitOperations.RoundUpToPowerOf2((uint)mostFrames);
        left = new RingMemory(capacity);
        right = new RingMemory(capacity);
        this.mostFrames = mostFrames;
        mask = capacity - 1;
    }

    /// <summary>Frames that the playing side can take now.</summary>
    public int Available => (int)(Volatile.Read(ref written) - Volatile.Read(ref taken));

    /// <summary>Frames that the reading side can add now.</summary>
    public int Free => mostFrames - Available;

    /// <summary>Number of the filling that it holds.</summary>
    public long Generation => Volatile.Read(ref generation);

    /// <summary>Reading side: the longest stretch of memory that can be filled at once, at most <paramref name="frames"/>.</summary>
    public int GetSpace(int frames, out Span<float> spaceLeft, out Span<float> spaceRight)
    {
        int start = (int)written & mask;
        int run = Math.Min(Math.Min(frames, Free), mask + 1 - start);
        spaceLeft = left.Slice(start, run);
        spaceRight = right.Slice(start, run);
        return run;
    }

    /// <summary>Reading side: hands over frames that were written into the space.</summary>
    public void Advance(int frames) => Volatile.Write(ref written, written + frames);

    /// <summary>Playing side: takes frames; what is missing is silence.</summary>
    public void Take(Span<float> blockLeft, Span<float> blockRight)
    {
        int run = Math.Min(blockLeft.Length, Available);
        int start = (int)taken & mask;
        int first = Math.Min(run, mask + 1 - start);
        left.Slice(start, first).CopyTo(blockLeft);
        right.Slice(start, first).CopyTo(blockRight);
        left.Slice(0, run - first).CopyTo(blockLeft[first..]);
        right.Slice(0, run - first).CopyTo(blockRight[first..]);
        blockLeft[run..].Clear();
        blockRight[run..].Clear();
        Skip(run);
        GC.KeepAlive(this);
    }

    /// <summary>Playing side: passes over frames that are there.</summary>
    public void Skip(int frames) => Volatile.Write(ref taken, taken + frames);

    /// <summary>Reading side: starts another filling; only while the playing side keeps away from the ring.</summary>
    public void Reset(long newGeneration)
    {
        written = 0;
        taken = 0;
        Volatile.Write(ref generation, newGeneration);
    }
}
