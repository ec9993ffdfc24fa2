namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// The lowest of the last values over a window whose length may change while it runs, in a fixed amount of work a value on
/// average.
/// </summary>
/// <remarks>
/// A queue that rises from its oldest to its newest entry (monotonic queue; from memory): a new value throws out all
/// entries that are not below it, entries older than the window leave, and the oldest one left is the lowest.
/// </remarks>
/// <param name="maximumWindow">The longest window, 1 or more values.</param>
public sealed class HoldingMinimum(int maximumWindow)
{
    private readonly float[] values = new float[maximumWindow];
    private readonly long[] times = new long[maximumWindow];
    private int oldest;
    private int count;
    private long now;

    /// <summary>Nothing before.</summary>
    public void Reset()
    {
        oldest = count = 0;
        now = 0;
    }

    /// <summary>Replaces each value by the lowest of the last <paramref name="window"/>, 1 up to the longest.</summary>
    public void Process(Span<float> samples, int window)
    {
        int length = values.Length;
        foreach (ref float sample in samples)
        {
            while (count > 0 && times[oldest] <= now - window)
            {
                oldest = oldest + 1 == length ? 0 : oldest + 1;
                count--;
            }

            while (count > 0 && values[Place(count - 1)] >= sample)
            {
                count--;
            }

            int place = Place(count);
            values[place] = sample;
            times[place] = now;
            count++;
            now++;
            sample = values[oldest];
        }
    }

    private int Place(int index)
    {
        int place = oldest + index;
        return place >= values.Length ? place - values.Length : place;
    }
}
