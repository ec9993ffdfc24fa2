using LiveStems.Analysis.Spectra;

namespace LiveStems.Bench.Planted;

/// <summary>
/// What a planting is measured by, without regard to the search: powers of bands from half-overlapped frames of 0.68 s,
/// whether the stem sounds, and the stem's own trend.
/// </summary>
/// <remarks>
/// The trend at a frequency is the course along the peaks of the long-term spectrum: of the bands a twelfth of an octave wide
/// that lie a sixth to half an octave to one side, what 85 % do not reach; the higher of both sides. In smooth spectra that is
/// the smoothed spectrum; where notes make it rugged, no note of the surroundings is left to stand above it.
/// </remarks>
internal sealed class PlantedSpectrum : IPowerFrameSink
{
    public const int FrameSize = 32_768;
    private const int SmoothedRows = 5;
    private const double SilentBelowLoudDb = 30;
    private const int StepsPerOctave = 24;
    private const double BandOctaves = 1.0 / 12;

    private readonly List<double[]> sums = [];
    private readonly double binHz;

    public PlantedSpectrum(float[][] sound, int sampleRate)
    {
        binHz = (double)sampleRate / FrameSize;
        PowerFrames frames = new(FrameSize, SpectrumChannel.Both, this);
        RowSeconds = (double)frames.HopFrames / sampleRate;
        FirstRowSeconds = RowSeconds - (double)FrameSize / sampleRate / 2;
        frames.Add(sound[0], sound[^1]);
        frames.Finish();
        TotalDb = Smoothed(Powers(40, 0.45 * sampleRate));
        double loud = TotalDb.Order().ElementAt((int)(0.95 * (TotalDb.Length - 1)));
        Sounds = [.. Powers(40, 0.45 * sampleRate).Select(power => Db(power) > loud - SilentBelowLoudDb)];
    }

    public int Rows => sums.Count;

    public double RowSeconds { get; }

    public double FirstRowSeconds { get; }

    /// <summary>Whether the stem sounds in a row: within 30 dB of its loud rows.</summary>
    public bool[] Sounds { get; }

    /// <summary>Level of each row, smoothed, dB.</summary>
    public double[] TotalDb { get; }

    public static double Db(double power) => 10 * Math.Log10(power + 1e-20);

    /// <summary>Middle of a row in seconds.</summary>
    public double At(int row) => FirstRowSeconds + row * RowSeconds;

    /// <summary>Mean power per bin of a band by row.</summary>
    public double[] Powers(double lowHz, double highHz)
    {
        double low = lowHz / binHz + 0.5;
        double high = highHz / binHz + 0.5;
        return [.. sums.Select(sum => (Below(sum, high) - Below(sum, low)) / (high - low))];
    }

    /// <summary>Levels of five rows together, dB.</summary>
    public static double[] Smoothed(double[] powers) => [.. powers.Select((_, row) =>
    {
        int first = Math.Max(0, row - SmoothedRows / 2);
        int end = Math.Min(powers.Length, row + SmoothedRows / 2 + 1);
        return Db(powers[first..end].Average());
    })];

    /// <summary>Mean over some rows.</summary>
    public static double Mean(double[] powers, bool[] over)
    {
        double sum = 0;
        int count = 0;
        for (int row = 0; row < powers.Length; row++)
        {
            sum += over[row] ? powers[row] : 0;
            count += over[row] ? 1 : 0;
        }

        return sum / Math.Max(1, count);
    }

    /// <summary>The trend at a frequency over some rows, dB per bin.</summary>
    public double TrendDb(double hz, bool[] over)
    {
        double highest = double.NegativeInfinity;
        foreach (int side in (ReadOnlySpan<int>)[-1, 1])
        {
            double[] levels = [.. Enumerable.Range(4, 9).Select(step => LevelDb(hz * Math.Pow(2, side * step / (double)StepsPerOctave), over)).Order()];
            double place = 0.85 * (levels.Length - 1);
            int under = (int)place;
            highest = Math.Max(highest, levels[under] + (place - under) * (levels[under + 1] - levels[under]));
        }

        return highest;
    }

    /// <summary>Level per octave of the loudest third of an octave over all rows in which the stem sounds, dB.</summary>
    public double LoudestPerOctaveDb() => Enumerable.Range(0, 24).Select(third => 60 * Math.Pow(2, third / 3.0))
        .Max(hz => Db(Mean(Powers(hz * Math.Pow(2, -1.0 / 6), hz * Math.Pow(2, 1.0 / 6)), Sounds) * hz));

    void IPowerFrameSink.Take(ReadOnlySpan<float> bins, bool isWhole)
    {
        double[] below = new double[bins.Length + 1];
        for (int bin = 0; bin < bins.Length; bin++)
        {
            below[bin + 1] = below[bin] + bins[bin];
        }

        sums.Add(below);
    }

    private static double Below(double[] sum, double edge)
    {
        int whole = Math.Min(sum.Length - 2, (int)edge);
        return sum[whole] + (edge - whole) * (sum[whole + 1] - sum[whole]);
    }

    private double LevelDb(double hz, bool[] over) => Db(Mean(Powers(hz * Math.Pow(2, -BandOctaves / 2), hz * Math.Pow(2, BandOctaves / 2)), over));
}
