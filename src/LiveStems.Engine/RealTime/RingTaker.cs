namespace LiveStems.Engine.RealTime;

/// <summary>
/// The audio thread's side of a ring: takes a stem in step with its song. What will not come in time is faded out before
/// it runs out; what comes too late is passed over; when the stem is back in step it is faded in.
/// </summary>
/// <remarks>
/// While it is open it leaves at least the length of a fade in the ring, so there is always enough to fade out with.
/// </remarks>
/// <param name="ring">The ring.</param>
/// <param name="fadeFrames">Length of a fade; 0 where the driver waits for the disk, and nothing can be late.</param>
/// <param name="settleFrames">Frames that must be there beyond the need before a stem is faded in again.</param>
internal sealed class RingTaker(StemRing ring, int fadeFrames, int settleFrames)
{
    private long generation = -1;
    private int open;
    private long owed;
    private long missedFrames;
    private bool isLate;

    /// <summary>Frames that were needed and not there.</summary>
    public long MissedFrames => Volatile.Read(ref missedFrames);

    /// <summary>True while the stem is silent because its frames are not there.</summary>
    public bool IsLate => Volatile.Read(ref isLate);

    /// <summary>Takes the next frames of a filling.</summary>
    /// <param name="wantedGeneration">Number of the filling.</param>
    /// <param name="passed">Frames at its start to pass over.</param>
    /// <param name="left">Left side.</param>
    /// <param name="right">Right side.</param>
    public void Take(long wantedGeneration, long passed, Span<float> left, Span<float> right)
    {
        if (fadeFrames == 0 || left.Length == 0)
        {
            ring.Take(left, right);
            return;
        }

        bool isFresh = wantedGeneration != generation;
        if (isFresh)
        {
            generation = wantedGeneration;
            owed = passed;
        }

        int available = CatchUp();
        int needed = left.Length + fadeFrames;
        if (isFresh)
        {
            open = available >= needed ? fadeFrames : 0;
        }

        bool opens = owed == 0 && available >= (open == 0 ? needed + settleFrames : needed);
        int frames = opens ? left.Length : Math.Min(Math.Min(left.Length, open), available);
        ring.Take(left[..frames], right[..frames]);
        left[frames..].Clear();
        right[frames..].Clear();
        if (!opens || open < fadeFrames)
        {
            Fade(left[..frames], right[..frames], opens ? 1 : -1);
        }

        int missing = left.Length - frames;
        owed += missing;
        Volatile.Write(ref missedFrames, missedFrames + missing);
        Volatile.Write(ref isLate, open == 0);
    }

    // Passes over what should have been heard earlier, and says what is left.
    private int CatchUp()
    {
        if (ring.Generation != generation)
        {
            return 0;
        }

        int available = ring.Available;
        int late = (int)Math.Min(owed, available);
        ring.Skip(late);
        owed -= late;
        return available - late;
    }

    private void Fade(Span<float> left, Span<float> right, int step)
    {
        for (int i = 0; i < left.Length; i++)
        {
            open = Math.Clamp(open + step, 0, fadeFrames);
            float share = FadeCurve.Smooth((float)open / fadeFrames);
            left[i] *= share;
            right[i] *= share;
        }
    }
}
