using System.Collections.Immutable;

namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Stretches of time as they come, in bounded memory: what lies closer together than the gap becomes one stretch, and when
/// there are too many, the gap is doubled.
/// </summary>
internal sealed class RangeList(double gapSeconds)
{
    private const int Most = 512;

    private readonly List<TimeRange> ranges = [];
    private double gap = gapSeconds;

    /// <summary>Adds a stretch that starts no earlier than the last one.</summary>
    public void Add(TimeRange range)
    {
        if (ranges.Count > 0 && range.StartSeconds - ranges[^1].EndSeconds <= gap)
        {
            ranges[^1] = new TimeRange(ranges[^1].StartSeconds, Math.Max(ranges[^1].EndSeconds, range.EndSeconds));
            return;
        }

        ranges.Add(range);
        if (ranges.Count > Most)
        {
            gap *= 2;
            TimeRange[] all = [.. ranges];
            ranges.Clear();
            foreach (TimeRange each in all)
            {
                Add(each);
            }
        }
    }

    /// <summary>The stretches, none beyond the end.</summary>
    public ImmutableArray<TimeRange> Within(double seconds) =>
        [.. ranges.Where(range => range.StartSeconds < seconds).Select(range => new TimeRange(Math.Max(0, range.StartSeconds), Math.Min(seconds, range.EndSeconds)))];
}
