using System.Runtime.CompilerServices;

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
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Process(Span<float> samples, int window)
    {
        float[] lows = values;
        long[] ages = times;
        int first = oldest;
        int entries = count;
        long time = now;
        foreach (ref float sample in samples)
        {
            float value = sample;
            while (entries > 0 && ages[first] <= time - window)
            {
                first = first + 1 == lows.Length ? 0 : first + 1;
                entries--;
            }

            int place = Place(first, entries, lows.Length);
            while (entries > 0)
            {
                int before = place == 0 ? lows.Length - 1 : place - 1;
                if (lows[before] < value)
                {
                    break;
                }

                place = before;
                entries--;
            }

            lows[place] = value;
            ages[place] = time;
            entries++;
            time++;
            sample = lows[first];
        }

        (oldest, count, now) = (first, entries, time);
    }

    private static int Place(int first, int index, int length)
    {
        int place = first + index;
        return place >= length ? place - length : place;
    }
}
