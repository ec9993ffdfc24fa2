namespace LiveStems.Analysis.Trouble;

/// <summary>Runs of places at which something holds, short gaps bridged.</summary>
internal static class BridgedRuns
{
    /// <summary>First and last places of the runs.</summary>
    /// <param name="first">Where to begin.</param>
    /// <param name="end">Behind the last place.</param>
    /// <param name="counts">Places that count: a rest says nothing, what rang before it may ring behind it.</param>
    /// <param name="holds">What must hold at a place.</param>
    /// <param name="longestGap">So many counting places in a row at which it does not hold are bridged.</param>
    public static IEnumerable<(int First, int Last)> Of(int first, int end, bool[] counts, Predicate<int> holds, int longestGap)
    {
        int start = -1;
        int last = -1;
        int gap = 0;
        for (int at = first; at < end; at++)
        {
            if (!counts[at])
            {
                continue;
            }

            if (holds(at))
            {
                start = start < 0 ? at : start;
                last = at;
                gap = 0;
            }
            else if (start >= 0 && ++gap > longestGap)
            {
                yield return (start, last);
                start = -1;
                gap = 0;
            }
        }

        if (start >= 0)
        {
            yield return (start, last);
        }
    }
}
