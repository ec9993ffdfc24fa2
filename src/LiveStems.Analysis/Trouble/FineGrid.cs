namespace LiveStems.Analysis.Trouble;

/// <summary>Narrow bands for resonances: a twenty-fourth of an octave apart, a twelfth wide, from 100 Hz up.</summary>
internal sealed class FineGrid
{
    /// <summary>Bands to an octave.</summary>
    public const int PerOctave = 24;

    /// <summary>Width of a band, octaves.</summary>
    public const double WidthOctaves = 1.0 / 12;

    private const double LowestHz = 100;
    private const double HighestHz = 15_500;
    private const double HighestShareOfRate = 0.46;

    private readonly double[] low;
    private readonly double[] high;
    private readonly double[] below;

    public FineGrid(int sampleRate, int frameSize)
    {
        double binHz = (double)sampleRate / frameSize;
        Bands = (int)(PerOctave * Math.Log2(Math.Min(HighestHz, HighestShareOfRate * sampleRate) / LowestHz));
        below = new double[frameSize / 2 + 2];
        low = new double[Bands];
        high = new double[Bands];
        for (int band = 0; band < Bands; band++)
        {
            // A bin stands for half a bin to either side of itself.
            low[band] = Hz(band) * Math.Pow(2, -WidthOctaves / 2) / binHz + 0.5;
            high[band] = Hz(band) * Math.Pow(2, WidthOctaves / 2) / binHz + 0.5;
        }
    }

    public int Bands { get; }

    /// <summary>Middle of a band, which need not be whole, Hz.</summary>
    public static double Hz(double band) => LowestHz * Math.Pow(2, band / PerOctave);

    /// <summary>The first band at or above a frequency.</summary>
    public static int From(double hz) => Math.Max(0, (int)Math.Ceiling(PerOctave * Math.Log2(hz / LowestHz)));

    /// <summary>Bins that a band takes in, parts of bins too.</summary>
    public double BinsOf(int band) => high[band] - low[band];

    /// <summary>Mean power per bin of every band, dB.</summary>
    public void Levels(ReadOnlySpan<float> power, Span<float> levelsDb)
    {
        double sum = 0;
        for (int bin = 0; bin < power.Length; bin++)
        {
            sum += power[bin];
            below[bin + 1] = sum;
        }

        for (int band = 0; band < Bands; band++)
        {
            levelsDb[band] = SlowBands.Db((float)((Below(high[band]) - Below(low[band])) / BinsOf(band)));
        }
    }

    private double Below(double edge)
    {
        int whole = (int)edge;
        return below[whole] + (edge - whole) * (below[whole + 1] - below[whole]);
    }
}
