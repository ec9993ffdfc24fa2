namespace LiveStems.Engine.RealTime;

/// <summary>
/// Look-ahead of one stem between the thread that reads its file and the thread that plays it: a ring for one writer and
/// one reader, without locks.
/// </summary>
internal sealed class StemRing
{
    private readonly float[] left;
    private readonly float[] right;
    private readonly int mask;
    private long written;
    private long taken;
    private int missedFrames;

    /// <param name="minimumFrames">Frames it must be able to hold; rounded up to a power of two.</param>
    public StemRing(int minimumFrames)
    {
        int capacity = (int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)minimumFrames);
        left = GC.AllocateArray<float>(capacity, pinned: true);
        right = GC.AllocateArray<float>(capacity, pinned: true);
        mask = capacity - 1;
    }

    /// <summary>Frames that the playing side can take now.</summary>
    public int Available => (int)(Volatile.Read(ref written) - Volatile.Read(ref taken));

    /// <summary>Frames that the reading side can add now.</summary>
    public int Free => left.Length - Available;

    /// <summary>Frames that were asked for and not there, since the last reset.</summary>
    public int MissedFrames => Volatile.Read(ref missedFrames);

    /// <summary>Reading side: the longest stretch of memory that can be filled at once, at most <paramref name="frames"/>.</summary>
    public int GetSpace(int frames, out Span<float> spaceLeft, out Span<float> spaceRight)
    {
        int start = (int)written & mask;
        int run = Math.Min(Math.Min(frames, Free), left.Length - start);
        spaceLeft = left.AsSpan(start, run);
        spaceRight = right.AsSpan(start, run);
        return run;
    }

    /// <summary>Reading side: hands over frames that were written into the space.</summary>
    public void Advance(int frames) => Volatile.Write(ref written, written + frames);

    /// <summary>Playing side: takes frames; what is missing is silence and is counted.</summary>
    public void Take(Span<float> blockLeft, Span<float> blockRight)
    {
        int run = Math.Min(blockLeft.Length, Available);
        int start = (int)taken & mask;
        int first = Math.Min(run, left.Length - start);
        left.AsSpan(start, first).CopyTo(blockLeft);
        right.AsSpan(start, first).CopyTo(blockRight);
        left.AsSpan(0, run - first).CopyTo(blockLeft[first..]);
        right.AsSpan(0, run - first).CopyTo(blockRight[first..]);
        if (run < blockLeft.Length)
        {
            blockLeft[run..].Clear();
            blockRight[run..].Clear();
            Volatile.Write(ref missedFrames, missedFrames + blockLeft.Length - run);
        }

        Volatile.Write(ref taken, taken + run);
    }

    /// <summary>Empties the ring; only while neither side is at work.</summary>
    public void Reset()
    {
        written = 0;
        taken = 0;
        missedFrames = 0;
    }
}
