namespace LiveStems.Analysis.Intake;

/// <summary>
/// When any file of a song is damaged or cut off, at the song's rate. What stands in a stem there and not in the rough mix, or the other
/// way round, is loud, seldom and in no proportion to the stem: a few such frames would draw delays and gains to themselves
/// (outliers in the regressor: P. J. Rousseeuw and A. M. Leroy, "Robust Regression and Outlier Detection", 1987, section 1.1).
/// </summary>
internal sealed class DamagedTimes
{
    // What a click leaves ringing and a change of rate smears.
    private const int Margin = 256;

    private readonly long[] starts;
    private readonly long[] ends;

    private DamagedTimes(IEnumerable<(long Start, long End)> times)
    {
        List<(long Start, long End)> apart = [];
        foreach ((long start, long end) in times.Order())
        {
            if (apart.Count > 0 && start <= apart[^1].End)
            {
                apart[^1] = (apart[^1].Start, Math.Max(end, apart[^1].End));
            }
            else
            {
                apart.Add((start, end));
            }
        }

        starts = [.. apart.Select(time => time.Start)];
        ends = [.. apart.Select(time => time.End)];
    }

    /// <summary>No damage.</summary>
    public static DamagedTimes None { get; } = new([]);

    /// <summary>True when nothing is damaged.</summary>
    public bool IsEmpty => starts.Length == 0;

    /// <summary>
    /// Dropouts, clicks and clipped runs of all files. A kind that a file has more of than are kept is not an exception in
    /// it, and is left out here.
    /// </summary>
    /// <param name="files">The files.</param>
    /// <param name="moved">By how many frames of the song's rate each is moved to earlier.</param>
    /// <param name="sampleRate">The song's rate.</param>
    public static DamagedTimes Of(IReadOnlyList<SongFile> files, long[] moved, int sampleRate)
    {
        List<(long Start, long End)> times = [];
        for (int i = 0; i < files.Count; i++)
        {
            if (files[i].Facts is { } facts)
            {
                double scale = (double)sampleRate / facts.Info.SampleRate;
                if (moved[i] != 0)
                {
                    // What a file that lies elsewhere lacks at its ends.
                    long end = (long)Math.Ceiling(facts.Info.Frames * scale);
                    times.Add((Math.Min(-moved[i], 0), Math.Max(-moved[i], 0)));
                    times.Add((end - Math.Max(moved[i], 0), end - Math.Min(moved[i], 0)));
                }

                foreach (EventList list in new[] { facts.Dropouts, facts.Clicks, facts.Clipping }.Where(list => list.Count == list.Places.Count))
                {
                    times.AddRange(list.Places.Select(place => (
                        (long)(place.Frame * scale) - moved[i] - Margin,
                        (long)Math.Ceiling((place.Frame + place.Frames) * scale) - moved[i] + Margin)));
                }
            }
        }

        return new DamagedTimes(times);
    }

    /// <summary>True when anything between two frames is damaged.</summary>
    public bool Touch(long start, long end)
    {
        int place = Array.BinarySearch(ends, start);
        place = place < 0 ? ~place : place + 1;
        return place < starts.Length && starts[place] < end;
    }

    /// <summary>How many of the half-overlapped windows over a length are touched.</summary>
    /// <param name="frames">The length.</param>
    /// <param name="step">Half a window.</param>
    public int Windows(long frames, int step)
    {
        if (IsEmpty)
        {
            return 0;
        }

        int touched = 0;
        for (long end = step; end < frames + step; end += step)
        {
            touched += Touch(end - 2 * step, end) ? 1 : 0;
        }

        return touched;
    }
}
