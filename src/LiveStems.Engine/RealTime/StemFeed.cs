namespace LiveStems.Engine.RealTime;

/// <summary>One stem's input to the plan: two look-ahead rings, and the buffer that a block is taken into.</summary>
internal sealed class StemFeed
{
    private readonly StemRing[] rings;
    private readonly StereoBuffer leaving;

    /// <param name="ringCount">1 for rendering from the start; 2 where jumps are possible.</param>
    /// <param name="lookAheadFrames">Frames a ring holds.</param>
    /// <param name="maximumFrames">The longest block.</param>
    public StemFeed(int ringCount, int lookAheadFrames, int maximumFrames)
    {
        rings = [.. Enumerable.Range(0, ringCount).Select(_ => new StemRing(Math.Max(lookAheadFrames, maximumFrames)))];
        Input = new StereoBuffer(maximumFrames);
        leaving = new StereoBuffer(ringCount > 1 ? maximumFrames : 0);
    }

    /// <summary>The frames of the present block.</summary>
    public StereoBuffer Input { get; }

    /// <summary>Frames that were needed and not there.</summary>
    public int MissedFrames => rings.Sum(ring => ring.MissedFrames);

    /// <summary>One of the look-ahead rings.</summary>
    public StemRing Ring(int index) => rings[index];

    /// <summary>Audio thread: takes the frames of a block.</summary>
    public void Take(in BlockWindow window, int blockFrames)
    {
        Span<float> left = Input.Left.AsSpan(0, blockFrames);
        Span<float> right = Input.Right.AsSpan(0, blockFrames);
        rings[window.Ring].Take(left[..window.Frames], right[..window.Frames]);
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
        rings[1 - window.Ring].Take(leavingLeft, leavingRight);
        for (int i = 0; i < frames; i++)
        {
            // Equal power: the two places of the song are not alike.
            (float arriving, float departing) = MathF.SinCos(MathF.PI / 2 * (window.FadeFrom + i + 0.5f) / window.FadeFrames);
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
            float share = 0.5f - 0.5f * MathF.Cos(MathF.PI * open / window.FadeFrames);
            left[i] *= share;
            right[i] *= share;
        }
    }
}
