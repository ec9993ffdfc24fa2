using LiveStems.Analysis.Trouble;

namespace LiveStems.Bench.Planted;

/// <summary>
/// A planted resonance in figures: by how much its band (its −3 dB width, at most an eighteenth of an octave, since that is
/// how well its middle must be found) stands above the unplanted stem's trend during the stated times, and when it is heard.
/// </summary>
internal sealed class PlantedMeasure
{
    private const double WidestShare = 1.0 / 36;

    private readonly PlantedSpectrum unplanted;
    private readonly PlantedResonance planted;
    private readonly bool[] stated;
    private readonly double trendDb;
    private readonly double[] trendByRow;

    public PlantedMeasure(PlantedSpectrum unplanted, PlantedResonance planted)
    {
        this.unplanted = unplanted;
        this.planted = planted;
        bool[] gate = [.. Enumerable.Range(0, unplanted.Rows).Select(row => planted.Ranges.Any(range => range.StartSeconds <= unplanted.At(row) && unplanted.At(row) < range.EndSeconds))];
        stated = [.. gate.Select((open, row) => open && unplanted.Sounds[row])];
        bool[] elsewhere = [.. gate.Select((open, row) => !open && unplanted.Sounds[row])];
        StatedSeconds = stated.Count(row => row) * unplanted.RowSeconds;
        if (StatedSeconds <= 0)
        {
            trendByRow = [];
            return;
        }

        trendDb = unplanted.TrendDb(planted.FrequencyHz, stated);
        (double low, double high) = Band;
        double[] own = unplanted.Powers(low, high);
        OwnPower = PlantedSpectrum.Mean(own, stated);
        OwnDb = PlantedSpectrum.Db(OwnPower) - trendDb;
        OwnElsewhereDb = elsewhere.Count(row => row) < 20
            ? double.NegativeInfinity
            : PlantedSpectrum.Db(PlantedSpectrum.Mean(own, elsewhere)) - unplanted.TrendDb(planted.FrequencyHz, elsewhere);
        double mean = PlantedSpectrum.Db(PlantedSpectrum.Mean([.. unplanted.TotalDb.Select(level => Math.Pow(10, level / 10))], stated));
        trendByRow = [.. unplanted.TotalDb.Select(level => trendDb + level - mean)];
    }

    /// <summary>Time in which it is to be heard and the stem sounds.</summary>
    public double StatedSeconds { get; }

    /// <summary>How far the unplanted stem stands above its trend in the band during the stated times, dB.</summary>
    public double OwnDb { get; }

    /// <summary>The same over the rest of the time, dB.</summary>
    public double OwnElsewhereDb { get; }

    /// <summary>Power per bin of the unplanted stem in the band during the stated times.</summary>
    public double OwnPower { get; }

    /// <summary>The trend's level for a whole octave, dB.</summary>
    public double TrendPerOctaveDb => trendDb + 10 * Math.Log10(planted.FrequencyHz);

    /// <summary>The power per bin that a surplus asks for.</summary>
    public double PowerFor(double surplusDb) => Math.Pow(10, (trendDb + surplusDb) / 10);

    /// <summary>Power per bin of some sound in the band, row for row.</summary>
    public double[] PowersOf(float[][] sound, int sampleRate) => PlantedBand.Powers(sound, sampleRate, Band.Low, Band.High);

    /// <summary>The mean of such powers over the stated times.</summary>
    public double Stated(double[] powers) => PlantedSpectrum.Mean(powers, stated);

    /// <summary>The surplus of the planted sound, dB.</summary>
    public double SurplusDb(double[] powers) => PlantedSpectrum.Db(Stated(powers)) - trendDb;

    /// <summary>
    /// Rows of the stated times in which the resonance is heard: over 0.85 s its band stands above the trend, moved with the
    /// stem's loudness, by at least half of its surplus.
    /// </summary>
    public bool[] Heard(double[] powers)
    {
        double[] level = PlantedSpectrum.Smoothed(powers);
        return [.. level.Select((db, row) => stated[row] && db - trendByRow[row] >= planted.SurplusDb / 2)];
    }

    /// <summary>Share of the stated times in which it is heard.</summary>
    public double HeardShare(bool[] heard) => heard.Count(row => row) * unplanted.RowSeconds / StatedSeconds;

    /// <summary>
    /// Length of what found and heard times share over the length of what either covers. Stated times in which it is not heard
    /// count for neither; other times, in which the stem sounds, count against what was found.
    /// </summary>
    public double Overlap(IReadOnlyList<TimeRange> found, bool[] heard)
    {
        int shared = 0;
        int either = 0;
        for (int row = 0; row < heard.Length; row++)
        {
            bool isFound = found.Any(range => range.StartSeconds <= unplanted.At(row) && unplanted.At(row) < range.EndSeconds);
            shared += heard[row] && isFound ? 1 : 0;
            either += heard[row] || (isFound && unplanted.Sounds[row] && !stated[row]) ? 1 : 0;
        }

        return either > 0 ? (double)shared / either : 0;
    }

    private (double Low, double High) Band
    {
        get
        {
            double half = Math.Min(0.5 / planted.Q, WidestShare);
            return (planted.FrequencyHz * (1 - half), planted.FrequencyHz * (1 + half));
        }
    }
}
