using System.Numerics;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// Look-ahead of one stem between the thread that reads its file and the thread that plays it: a ring for one writer and
/// one reader, without locks.
/// </summary>
internal sealed class StemRing
{
    private readonly float[] left;
    private readonly float[] right;
    private readonly int mostFrames;
    private readonly int mask;
    private long written;
    private long taken;
    private long generation = -1;
    private bool isGivenBack;

    /// <param name="mostFrames">Frames it holds at most.</param>
    public StemRing(int mostFrames)
    {
        int capacity = (int)BitOperations.RoundUpToPowerOf2((uint)mostFrames);
        left = RingMemory.Take(capacity);
        right = RingMemory.Take(capacity);
        this.mostFrames = mostFrames;
        mask = capacity - 1;
    }

    /// <summary>A ring that the audio thread writes: its memory is there before, so that no write waits for the system to bring it.</summary>
    public static StemRing ForAudioThread(int mostFrames)
    {
        StemRing ring = new(mostFrames);
        ring.left.AsSpan().Clear();
        ring.right.AsSpan().Clear();
        return ring;
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
        int run = Math.Min(Math.Min(frames, Free), left.Length - start);
        spaceLeft = left.AsSpan(start, run);
        spaceRight = right.AsSpan(start, run);
        return run;
    }

    /// <summary>Reading side: hands over frames that were written into the space.</summary>
    public void Advance(int frames) => Volatile.Write(ref written, written + frames);

    /// <summary>Playing side: takes frames; what is missing is silence.</summary>
    public void Take(Span<float> blockLeft, Span<float> blockRight)
    {
        int run = Math.Min(blockLeft.Length, Available);
        int start = (int)taken & mask;
        int first = Math.Min(run, left.Length - start);
        left.AsSpan(start, first).CopyTo(blockLeft);
        right.AsSpan(start, first).CopyTo(blockRight);
        left.AsSpan(0, run - first).CopyTo(blockLeft[first..]);
        right.AsSpan(0, run - first).CopyTo(blockRight[first..]);
        blockLeft[run..].Clear();
        blockRight[run..].Clear();
        Skip(run);
    }

    /// <summary>Playing side: passes over frames that are there. Where there are none it touches nothing: the ring may be being filled anew.</summary>
    public void Skip(int frames)
    {
        if (frames > 0)
        {
            Volatile.Write(ref taken, taken + frames);
        }
    }

    /// <summary>Leaves its memory to the next song; only once nobody fills it any more.</summary>
    public void GiveBack()
    {
        if (!isGivenBack)
        {
            isGivenBack = true;
            RingMemory.GiveBack(left);
            RingMemory.GiveBack(right);
        }
    }

    /// <summary>Reading side: starts another filling; only while the playing side keeps away from the ring.</summary>
    public void Reset(long newGeneration)
    {
        written = 0;
        taken = 0;
        Volatile.Write(ref generation, newGeneration);
    }
}
