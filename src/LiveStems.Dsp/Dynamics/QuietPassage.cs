namespace LiveStems.Dsp.Dynamics;

/// <summary>How high the peaks of the last frames were, and whether all of them went through untouched.</summary>
internal sealed class QuietPassage
{
    private readonly int span;
    private float highest;
    private float highestBefore;
    private int frames;
    private int untouched;

    /// <summary>Silence before.</summary>
    /// <param name="span">Frames that count at least.</param>
    public QuietPassage(int span)
    {
        this.span = span;
        untouched = span;
    }

    /// <summary>Highest peak of at least the last frames that count, and of no more than the last three times as many.</summary>
    public float HighestPeak => Math.Max(highest, highestBefore);

    /// <summary>True when all frames that count were left as they were.</summary>
    public bool IsUntouched => untouched >= span;

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        highest = highestBefore = 0;
        frames = 0;
        untouched = span;
    }

    /// <summary>Takes in the next frames, at most as many as count.</summary>
    /// <param name="peak">Their highest peak.</param>
    /// <param name="count">How many.</param>
    /// <param name="areUntouched">Whether they were left as they were.</param>
    public void Add(float peak, int count, bool areUntouched)
    {
        if (frames >= span)
        {
            (highestBefore, highest, frames) = (highest, 0, 0);
        }

        highest = Math.Max(highest, peak);
        frames += count;
        untouched = areUntouched ? Math.Min(span, untouched + count) : 0;
    }
}
