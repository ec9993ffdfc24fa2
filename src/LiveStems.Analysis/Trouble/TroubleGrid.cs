using LiveStems.Analysis.Hearing;

namespace LiveStems.Analysis.Trouble;

/// <summary>The bands of the search: a quarter of an equivalent rectangular bandwidth apart, from 1 Cam (26 Hz) to 20 kHz or near half the rate.</summary>
internal sealed class TroubleGrid
{
    /// <summary>From one band to the next, Cam.</summary>
    public const double StepCam = 0.25;

    /// <summary>Reach of a band to either side, Cam.</summary>
    public const double ReachCam = 0.25;

    /// <summary>Reach within which a band's highest line is looked for, Cam.</summary>
    public const double LineReachCam = 0.15;

    private const double LowestCam = 1;
    private const double HighestHz = 20_000;
    private const double HighestShareOfRate = 0.46;
    private const int FewestBins = 5;

    public TroubleGrid(int sampleRate, int frameSize)
    {
        double binHz = (double)sampleRate / frameSize;
        double highest = CamScale.FromHz(Math.Min(HighestHz, HighestShareOfRate * sampleRate));
        Bands = (int)((highest - LowestCam) / StepCam) + 1;
        FirstBin = new int[Bands];
        EndBin = new int[Bands];
        FirstLineBin = new int[Bands];
        EndLineBin = new int[Bands];
        for (int band = 0; band < Bands; band++)
        {
            double cam = Cam(band);
            FirstBin[band] = Math.Max(1, (int)Math.Round(CamScale.ToHz(cam - ReachCam) / binHz));
            EndBin[band] = Math.Max((int)Math.Round(CamScale.ToHz(cam + ReachCam) / binHz), FirstBin[band] + FewestBins) + 1;
            FirstLineBin[band] = (int)Math.Round(CamScale.ToHz(cam - LineReachCam) / binHz);
            EndLineBin[band] = (int)Math.Round(CamScale.ToHz(cam + LineReachCam) / binHz) + 1;
        }
    }

    public int Bands { get; }

    /// <summary>First bin of each band.</summary>
    public int[] FirstBin { get; }

    /// <summary>Bin after the last of each band.</summary>
    public int[] EndBin { get; }

    /// <summary>First bin in which a band's highest line is looked for.</summary>
    public int[] FirstLineBin { get; }

    /// <summary>Bin after the last of those.</summary>
    public int[] EndLineBin { get; }

    /// <summary>Middle of a band, which need not be whole, on the ERB-number scale.</summary>
    public static double Cam(double band) => LowestCam + band * StepCam;

    /// <summary>Middle of a band, which need not be whole, Hz.</summary>
    public static double Hz(double band) => CamScale.ToHz(Cam(band));

    /// <summary>The band nearest to a frequency.</summary>
    public int Nearest(double frequencyHz) =>
        Math.Clamp((int)Math.Round((CamScale.FromHz(frequencyHz) - LowestCam) / StepCam), 0, Bands - 1);
}
