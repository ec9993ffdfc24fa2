namespace LiveStems.View.Desk;

/// <summary>The live spectrum of the chain or processor that the desk works on: input and output, 60 pictures a second.</summary>
public sealed class SpectrumModel
{
    /// <summary>Number of points of every curve.</summary>
    public const int Points = 512;

    /// <summary>Frequency of the first and the last point in Hz.</summary>
    public const double LowestHz = 16, HighestHz = 24_000;

    private readonly AlbumDesk desk;

    internal SpectrumModel(AlbumDesk desk)
    {
        this.desk = desk;
        Frame = Buffer.Latest();
    }

    /// <summary>Frequencies of the points in Hz: equal ratios apart.</summary>
    public static IReadOnlyList<double> Frequencies { get; } =
        [.. Enumerable.Range(0, Points).Select(point => LowestHz * Math.Pow(HighestHz / LowestHz, point / (Points - 1.0)))];

    /// <summary>The newest picture; stands still until the next <see cref="AlbumDesk.Update"/>.</summary>
    public SpectrumFrame Frame { get; private set; }

    /// <summary>Slope that is added for the eye in dB an octave around 1 kHz; 0 shows pink noise level.</summary>
    public double TiltDbPerOctave { get; set; }

    /// <summary>True to freeze the picture.</summary>
    public bool IsFrozen { get; set; }

    /// <summary>True to keep looking at the whole song, whatever is selected.</summary>
    public bool ShowsSong
    {
        get;
        set
        {
            field = value;
            desk.PutTaps();
        }
    }

    internal TripleBuffer<SpectrumFrame> Buffer { get; } = new(() => new SpectrumFrame(Points));

    /// <summary>A level as it is drawn, with the tilt.</summary>
    public double Tilted(double levelDb, int point) => levelDb + TiltDbPerOctave * Math.Log2(Frequencies[point] / 1000);

    /// <summary>The point nearest to a frequency.</summary>
    public static int PointOf(double frequencyHz) =>
        (int)Math.Clamp(Math.Round(Math.Log(frequencyHz / LowestHz) / Math.Log(HighestHz / LowestHz) * (Points - 1)), 0, Points - 1);

    /// <summary>Starts peak hold anew.</summary>
    public void ClearPeaks() => desk.Analysis.AskToClearPeaks();

    /// <summary>Starts the long-term curve and the percentiles anew.</summary>
    public void ClearLongTerm() => desk.Analysis.AskToClearLongTerm();

    internal void Update()
    {
        if (!IsFrozen)
        {
            Frame = Buffer.Latest();
        }
    }
}
