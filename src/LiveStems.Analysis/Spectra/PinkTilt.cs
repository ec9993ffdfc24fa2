namespace LiveStems.Analysis.Spectra;

/// <summary>
/// The straight line through the levels of fractional-octave bands over octaves, in which pink noise is level.
/// </summary>
/// <param name="DbPerOctave">Slope against pink noise: 0 for pink, +3.01 for white noise; NaN for fewer than three bands.</param>
/// <param name="LevelAt1000HzDbfs">Level of the line at 1 kHz in dBFS.</param>
/// <param name="DeviationDb">Root mean square distance of the bands from the line.</param>
public sealed record PinkTilt(double DbPerOctave, double LevelAt1000HzDbfs, double DeviationDb)
{
    private const double LowestHz = 40;
    private const double HighestHz = 16_000;

    // What lies further below the strongest band is noise floor or filtered away, and says nothing of the balance.
    private const double RangeDb = 70;

    /// <summary>Fits the line by least squares to the bands from 40 Hz to 16 kHz that are within 70 dB of the strongest.</summary>
    public static PinkTilt Of(IReadOnlyList<BandLevel> bands)
    {
        List<BandLevel> inside = [.. bands.Where(level => level.Band.MidHz is >= LowestHz and <= HighestHz)];
        double strongest = inside.Count == 0 ? double.NegativeInfinity : inside.Max(level => level.MeanDbfs);
        inside.RemoveAll(level => !(level.MeanDbfs >= strongest - RangeDb) || !double.IsFinite(level.MeanDbfs));
        if (inside.Count < 3)
        {
            return new PinkTilt(double.NaN, double.NaN, double.NaN);
        }

        double[] octaves = [.. inside.Select(level => Math.Log2(level.Band.MidHz / 1000))];
        double meanOctave = octaves.Average();
        double meanLevel = inside.Average(level => level.MeanDbfs);
        double slope = octaves.Zip(inside, (octave, level) => (octave - meanOctave) * (level.MeanDbfs - meanLevel)).Sum()
            / octaves.Sum(octave => (octave - meanOctave) * (octave - meanOctave));
        double at1000 = meanLevel - slope * meanOctave;
        double square = octaves.Zip(inside, (octave, level) => level.MeanDbfs - at1000 - slope * octave).Average(distance => distance * distance);
        return new PinkTilt(slope, at1000, Math.Sqrt(square));
    }
}
