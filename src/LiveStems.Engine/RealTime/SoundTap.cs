namespace LiveStems.Engine.RealTime;

/// <summary>
/// Sound on its way from the audio thread to one other thread that analyses it: a ring without locks. When the other
/// side falls behind, what does not fit is left out and counted; the audio thread never waits.
/// </summary>
public sealed class SoundTap
{
    private readonly StemRing ring;
    private long lostFrames;

    /// <summary>A tap that holds at least so many frames.</summary>
    public SoundTap(int minimumFrames) => ring = StemRing.ForAudioThread(minimumFrames);

    /// <summary>Frames that can be taken now.</summary>
    public int Available => ring.Available;

    /// <summary>Frames that were left out so far because nobody took them in time.</summary>
    public long LostFrames => Volatile.Read(ref lostFrames);

    /// <summary>Analysing thread: takes the oldest frames, as many as there are and fit; returns how many.</summary>
    public int Take(Span<float> left, Span<float> right)
    {
        int frames = Math.Min(left.Length, ring.Available);
        ring.Take(left[..frames], right[..frames]);
        return frames;
    }

    /// <summary>Audio thread: true while it takes nothing, to save time.</summary>
    internal bool IsPaused { get; set; }

    /// <summary>Audio thread: adds frames, as many as fit.</summary>
    internal void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        if (IsPaused)
        {
            return;
        }

        int done = 0;
        while (done < left.Length)
        {
            int run = ring.GetSpace(left.Length - done, out Span<float> spaceLeft, out Span<float> spaceRight);
            if (run == 0)
            {
                Volatile.Write(ref lostFrames, lostFrames + left.Length - done);
                return;
            }

            left.Slice(done, run).CopyTo(spaceLeft);
            right.Slice(done, run).CopyTo(spaceRight);
            ring.Advance(run);
            done += run;
        }
    }
}
