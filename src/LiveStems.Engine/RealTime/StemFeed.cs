namespace LiveStems.Engine.RealTime;

/// <summary>One stem's input to the plan: two look-ahead rings, and the buffer that a block is taken into.</summary>
internal sealed class StemFeed
{
    // A stem that was late comes back when so many fades' worth of it is there.
    private const int FadesToSettle = 5;

    private readonly StemRing[] rings;
    private readonly RingTaker[] takers;
    private readonly StereoBuffer leaving;
    private int playingRing;

    /// <param name="ringCount">1 for rendering from the start; 2 where jumps are possible and frames may come late.</param>
    /// <param name="lookAheadFrames">Frames a ring holds.</param>
    /// <param name="maximumFrames">The longest block.</param>
    /// <param name="fadeFrames">Length of a fade.</param>
    public StemFeed(int ringCount, int lookAheadFrames, int maximumFrames, int fadeFrames)
    {
        ReserveFrames = ringCount > 1 ? fadeFrames : 0;
        int settleFrames = FadesToSettle * ReserveFrames;
        int frames = Math.Max(lookAheadFrames, maximumFrames + ReserveFrames + settleFrames);
        rings = new StemRing[ringCount];
        for (int i = 0; i < ringCount; i++)
        {
            rings[i] = new StemRing(frames);
        }

        takers = [.. rings.Select(ring => new RingTaker(ring, ReserveFrames, settleFrames))];
        Input = new StereoBuffer(maximumFrames);
        leaving = new StereoBuffer(ringCount > 1 ? maximumFrames : 0);
    }

    /// <summary>The frames of the present block.</summary>
    public StereoBuffer Input { get; }

    /// <summary>Frames that must be there beyond a block for it to be played in full.</summary>
    public int ReserveFrames { get; }

    /// <summary>Frames that were needed and not there.</summary>
    public long MissedFrames
    {
        get
        {
            long missed = 0;
            foreach (RingTaker taker in takers)
            {
                missed += taker.MissedFrames;
            }

            return missed;
        }
    }

    /// <summary>True while the stem is silent because its frames are not there.</summary>
    public bool IsLate => takers[Volatile.Read(ref playingRing)].IsLate;

    /// <summary>Leaves the memory of its rings to the next song; only once nobody fills them any more.</summary>
    public void GiveBack() => Array.ForEach(rings, ring => ring.GiveBack());

    /// <summary>One of the look-ahead rings.</summary>
    public StemRing Ring(int index) => rings[index];

    /// <summary>Audio thread: takes the frames of a block.</summary>
    public void Take(in BlockWindow window, int blockFrames)
    {
        Span<float> left = Input.Left.AsSpan(0, blockFrames);
        Span<float> right = Input.Right.AsSpan(0, blockFrames);
        Volatile.Write(ref playingRing, window.Ring);
        takers[window.Ring].Take(window.Generation, window.Passed, left[..window.Frames], right[..window.Frames]);
        left[window.Frames..].Clear();
        right[window.Frames..].Clear();
        if (window.FadeFrom >= 0)
        {
            CrossFade(window, left, right);
        }

        if (window.GateStep != 0)
        {
            Gate(window, left, right);
        }
    }

    private void CrossFade(in BlockWindow window, Span<float> left, Span<float> right)
    {
        int frames = Math.Min(window.Frames, window.FadeFrames - window.FadeFrom);
        Span<float> leavingLeft = leaving.Left.AsSpan(0, frames);
        Span<float> leavingRight = leaving.Right.AsSpan(0, frames);
        takers[1 - window.Ring].Take(window.LeavingGeneration, 0, leavingLeft, leavingRight);
        for (int i = 0; i < frames; i++)
        {
            // Two places of the song are not alike: equal power. In step they are, but for what one of them lacks.
            float place = (window.FadeFrom + i + 0.5f) / window.FadeFrames;
            (float arriving, float departing) = window.IsInStep ? FadeCurve.EqualGain(place) : FadeCurve.EqualPower(place);
            left[i] = arriving * left[i] + departing * leavingLeft[i];
            right[i] = arriving * right[i] + departing * leavingRight[i];
        }
    }

    private static void Gate(in BlockWindow window, Span<float> left, Span<float> right)
    {
        int open = window.GateFrom;
        for (int i = 0; i < window.Frames; i++)
        {
            open = Math.Clamp(open + window.GateStep, 0, window.FadeFrames);
            float share = FadeCurve.Smooth((float)open / window.FadeFrames);
            left[i] *= share;
            right[i] *= share;
        }
    }
}
