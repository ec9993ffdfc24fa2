using LiveStems.Analysis.Spectra;

namespace LiveStems.View.Desk;

/// <summary>The live spectrum of the chain or processor that the desk works on: input and output, 60 pictures a second.</summary>
public sealed class SpectrumModel
{
    /// <summary>Bands to the octave.</summary>
    public const int BandsPerOctave = 24;

    private readonly AlbumDesk desk;
    private static readonly OctaveBand[] Bands = FractionalOctaves.Between(BandsPerOctave, 20, 20_000);

    private readonly TripleBuffer<SpectrumFrame> buffer;
    private readonly ReductionCurve reduction;

    internal SpectrumModel(AlbumDesk desk)
    {
        this.desk = desk;
        buffer = desk.Analysis.Spectra;
        reduction = new ReductionCurve(Frequencies, desk.Player.SampleRate);
        Frame = buffer.Latest();
    }

    /// <summary>Number of points of every curve.</summary>
    public static int Points => Bands.Length;

    /// <summary>
    /// Middle frequencies of the points in Hz: equal ratios apart, 24 to the octave (IEC 61260-1). Those above half the
    /// sample rate are always silent.
    /// </summary>
    public static IReadOnlyList<double> Frequencies { get; } = [.. Bands.Select(band => band.MidHz)];

    /// <summary>The newest picture; stands still until the next <see cref="AlbumDesk.Update"/>.</summary>
    public SpectrumFrame Frame { get; private set; }

    /// <summary>
    /// What moves with the sound per frequency in dB, below 0 where it is taken down and above where it is raised, of the
    /// processors of the chain that publish it: those that work on parts of the spectrum. For a selected processor, its own.
    /// </summary>
    public float[] ReductionDb => reduction.Db;

    /// <summary>Slope that is added for the eye in dB an octave around 1 kHz; 0 shows pink noise level, 3 white noise falling.</summary>
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

    /// <summary>True to hold peaks until they are cleared, false to let them fall after two seconds.</summary>
    public bool HoldsPeaks
    {
        get;
        set
        {
            field = value;
            desk.Analysis.AskToHold(value);
        }
    }

    /// <summary>A level as it is drawn, with the tilt.</summary>
    public double Tilted(double levelDb, int point) => levelDb + TiltDbPerOctave * Math.Log2(Frequencies[point] / 1000);

    /// <summary>The point nearest to a frequency.</summary>
    public static int PointOf(double frequencyHz) =>
        (int)Math.Clamp(Math.Round(Math.Log(frequencyHz / Frequencies[0]) / Math.Log(Frequencies[^1] / Frequencies[0]) * (Points - 1)), 0, Points - 1);

    /// <summary>Starts every curve anew: long-term, percentiles, peaks.</summary>
    public void Clear() => desk.Analysis.AskToClearSpectra();

    internal void Update()
    {
        if (!IsFrozen)
        {
            Frame = buffer.Latest();
            reduction.Take(desk.Chain.Processors, desk.Selection);
        }
    }
}
