namespace LiveStems.Analysis.Trouble;

/// <summary>
/// Resonances: narrow bands that stand above the stem's own trend for seconds on end. A note does so, too, but it comes back
/// as loud elsewhere, it does not last, and it brings its octaves along: by these three a resonance is told from it.
/// </summary>
internal sealed class SurplusFinder(SlowBands bands, StemRows rows, TroubleSettings settings)
{
    /// <summary>Least mean height above the trend, dB.</summary>
    public const double ThresholdDb = 4;

    /// <summary>Least mean height of a round peak, which no partial makes, dB.</summary>
    public const double LeastDb = 3;

    /// <summary>Windows that stand above the trend by less than this do not count, dB.</summary>
    public const double EntryDb = 2.5;

    /// <summary>At least so many windows in a row, where the stem has as many.</summary>
    public const int LongestAtLeast = 7;

    /// <summary>The same for a round peak.</summary>
    public const int LongestIfRound = 5;

    /// <summary>So many windows in a row are no note.</summary>
    public const int SurelyLong = 12;

    /// <summary>As is what stands out for this share of the time.</summary>
    public const double SurelyOften = 0.6;

    /// <summary>Otherwise the band is louder by this while it stands out than nine tenths of the time that it does not, dB.</summary>
    public const double AboveItselfDb = 3;

    /// <summary>The octaves and twelfths of a resonance, above and below, stand out less by this, dB: those of a note do not.</summary>
    public const double AboveOctavesDb = 2;

    /// <summary>Farther than this below the loudest band, octave for octave, a resonance is not heard, dB.</summary>
    public const double InaudibleBelowDb = 45;

    public const double LowestHz = 180;

    /// <summary>Bands at either end of the grid that have too few neighbours to be judged.</summary>
    public const int OwnEdge = 3;

    private const int LongestGap = 3;

    // A twelfth of an octave off its middle a resonance of Q 8 to 25 has fallen by 1.5 to 6.7 dB: 10 lg(1 + (0.1156 Q)²).
    private const int RoundReach = FineGrid.PerOctave / 12;
    private const double LeastFallDb = 0.5;
    private const double MostFallDb = 7;
    private const int ShortestRun = 3;
    private const int Beside = 4;
    private const int Apart = FineGrid.PerOctave / 4;
    private const double ShareOfFewWindows = 0.6;

    // A bell's slopes lift what lies an eighth of an octave away by about this much at most.
    private const double SlopesDb = 3;
    private const double FootDb = 6;
    private const int FewestOutside = 9;

    private readonly SurplusWindows windows = new(bands.Fine, rows);

    public IEnumerable<SurplusFound> Find()
    {
        int sounding = windows.Sounds.Count(sounds => sounds);
        if (sounding == 0)
        {
            return [];
        }

        double loudest = Enumerable.Range(0, windows.StemDb.Length).Max(PerOctaveDb);
        List<Candidate> candidates = [];
        for (int band = FineGrid.From(LowestHz); band < windows.StemDb.Length - OwnEdge; band++)
        {
            if (PerOctaveDb(band) > loudest - InaudibleBelowDb && Candidate(band, sounding) is { } candidate)
            {
                candidates.Add(candidate);
            }
        }

        List<Candidate> kept = [];
        foreach (Candidate candidate in candidates.OrderByDescending(each => each.Weight))
        {
            if (!kept.Exists(other => Math.Abs(other.Band - candidate.Band) <= Apart && other.Windows.Intersect(candidate.Windows).Any()))
            {
                kept.Add(candidate);
            }
        }

        SurplusTimes times = new(windows, rows);
        return kept.Where(candidate => IsResonance(candidate, sounding)).Select(candidate => Describe(candidate, times));
    }

    // Level per octave rather than per Hz.
    private double PerOctaveDb(int band) => windows.StemDb[band] + 10 * Math.Log10(FineGrid.Hz(band));

    private Candidate? Candidate(int band, int sounding) =>
        Round(band, sounding, windows.SurplusDb) ?? Candidate(band, sounding, ThresholdDb, windows.SurplusDb) ?? Round(band, sounding, windows.EasedSurplusDb);

    private Candidate? Round(int band, int sounding, double[][] surplus) =>
        Candidate(band, sounding, LeastDb, surplus) is { } candidate && IsRound(candidate) ? candidate : null;

    private Candidate? Candidate(int band, int sounding, double thresholdDb, double[][] surplus)
    {
        int shortest = Math.Min(ShortestRun, sounding);
        List<int> standing = [];
        int longest = 0;
        foreach ((int first, int last) in BridgedRuns.Of(0, windows.Count, windows.Sounds, window => surplus[window][band] > EntryDb, LongestGap))
        {
            List<int> run = [.. Enumerable.Range(first, last - first + 1).Where(window => windows.Sounds[window])];
            if (run.Count >= shortest && MeanSurplus(surplus, band, run) >= thresholdDb - settings.SensitivityDb)
            {
                standing.AddRange(run);
                longest = Math.Max(longest, last - first + 1);
            }
        }

        return standing.Count == 0 ? null : new Candidate(band, standing, longest, MeanSurplus(surplus, band, standing), surplus);
    }

    private bool IsResonance(Candidate candidate, int sounding)
    {
        double share = (double)candidate.Windows.Count / sounding;
        int longestAtLeast = Math.Min(IsRound(candidate) ? LongestIfRound : LongestAtLeast, (int)Math.Ceiling(ShareOfFewWindows * sounding));
        return candidate.Longest >= longestAtLeast
            && IsNoSlope(candidate)
            && (share >= SurelyOften || candidate.Longest >= SurelyLong || AboveItself(candidate) >= AboveItselfDb)
            && HighestOctave(candidate) <= candidate.SurplusDb - AboveOctavesDb;
    }

    // Whether a peak falls to both sides as a resonance does, and not as a line between others.
    private bool IsRound(Candidate candidate)
    {
        double own = Level(candidate, candidate.Band);
        return Falls(-1) && Falls(1);

        bool Falls(int side)
        {
            int near = candidate.Band + side * RoundReach;
            if (near - 1 < 0 || near + 1 >= windows.StemDb.Length)
            {
                return false;
            }

            double fall = own - Level(candidate, near);
            return fall is > LeastFallDb and < MostFallDb && own - Level(candidate, near + side) > fall - LeastFallDb;
        }
    }

    private double Level(Candidate candidate, int band) => Mean(candidate.Windows.Select(window => windows.LevelDb[window][band]));

    // Between two partials a band may stand above what lies beyond them and yet be the foot of both.
    private bool IsNoSlope(Candidate candidate)
    {
        double own = Level(candidate, candidate.Band);
        for (int band = candidate.Band - OwnEdge; band <= candidate.Band + OwnEdge; band++)
        {
            if (band >= 0 && band < windows.StemDb.Length && Level(candidate, band) > own + FootDb)
            {
                return false;
            }
        }

        return true;
    }

    private double AboveItself(Candidate candidate)
    {
        List<int> outside = Outside(candidate);
        return outside.Count < FewestOutside
            ? double.PositiveInfinity
            : Level(candidate, candidate.Band) - EndRows.Percentile(outside.Select(window => windows.LevelDb[window][candidate.Band]), 0.9);
    }

    private List<int> Outside(Candidate candidate)
    {
        HashSet<int> near = [.. candidate.Windows.SelectMany(window => Enumerable.Range(window - Beside, 2 * Beside + 1))];
        return [.. Enumerable.Range(0, windows.Count).Where(window => windows.Sounds[window] && !near.Contains(window))];
    }

    private double HighestOctave(Candidate candidate)
    {
        List<int> outside = Outside(candidate);
        return OctaveRule.HighestDb(
            candidate.Band,
            windows.StemDb.Length,
            band => MeanSurplus(candidate.SurplusOf, band, candidate.Windows),
            outside.Count < FewestOutside ? null : band => MeanSurplus(candidate.SurplusOf, band, outside));
    }

    private SurplusFound Describe(Candidate candidate, SurplusTimes times)
    {
        int low = candidate.Band;
        int high = candidate.Band;
        while (low > 0 && MeanSurplus(candidate.SurplusOf, low - 1, candidate.Windows) > candidate.SurplusDb / 2)
        {
            low--;
        }

        while (high < windows.StemDb.Length - 1 && MeanSurplus(candidate.SurplusOf, high + 1, candidate.Windows) > candidate.SurplusDb / 2)
        {
            high++;
        }

        double sum = 0;
        double moment = 0;
        for (int at = Math.Max(low, candidate.Band - 2); at <= Math.Min(high, candidate.Band + 2); at++)
        {
            double weight = MeanSurplus(candidate.SurplusOf, at, candidate.Windows) - candidate.SurplusDb / 2;
            sum += weight;
            moment += weight * at;
        }

        double level = Mean(candidate.Windows.Select(window => windows.LevelDb[window][candidate.Band]));
        return new SurplusFound(
            FineGrid.Hz(moment / sum),
            Math.Max(FineGrid.WidthOctaves, (high - low + 1.0) / FineGrid.PerOctave),
            Math.Clamp(level - WideTrend(candidate), candidate.SurplusDb, candidate.SurplusDb + SlopesDb),
            level + 10 * Math.Log10(bands.FineGrid.BinsOf(candidate.Band)),
            times.Of(candidate),
            IsRound(candidate));
    }

    // The resonance's own slopes lift its surroundings: how high it stands is told beside what lies beyond them.
    private double WideTrend(Candidate candidate)
    {
        double[] levels = [.. Enumerable.Range(0, windows.StemDb.Length).Select(band => Mean(candidate.Windows.Select(window => windows.LevelDb[window][band])))];
        return PeakTrend.Beyond(levels, candidate.Band);
    }

    private static double MeanSurplus(double[][] surplus, int band, List<int> over) => Mean(over.Select(window => surplus[window][band]));

    private static double Mean(IEnumerable<double> levelsDb) => 10 * Math.Log10(levelsDb.Average(level => Math.Pow(10, level / 10)));
}

/// <summary>A band that stands out and the windows in which it does.</summary>
/// <param name="Band">The band.</param>
/// <param name="Windows">The windows.</param>
/// <param name="Longest">How many of them follow one another at most.</param>
/// <param name="SurplusDb">Mean height above the trend in them.</param>
/// <param name="SurplusOf">Heights by window and band that it was found by.</param>
internal sealed record Candidate(int Band, List<int> Windows, int Longest, double SurplusDb, double[][] SurplusOf)
{
    public double Weight => SurplusDb * Math.Sqrt(Windows.Count);
}

/// <summary>A resonance.</summary>
/// <param name="CentreHz">Where it is.</param>
/// <param name="WidthOctaves">Width at half of its height.</param>
/// <param name="SurplusDb">Mean height above the trend while it lasts.</param>
/// <param name="LevelDb">Level of its band while it lasts, dB of mean square.</param>
/// <param name="Rows">First and last rows of its stretches.</param>
/// <param name="IsRound">Whether it falls to both sides as a resonance does, so that it is no partial.</param>
internal sealed record SurplusFound(double CentreHz, double WidthOctaves, double SurplusDb, double LevelDb, IReadOnlyList<(int First, int Last)> Rows, bool IsRound);
