using LiveStems.Analysis.Spectra;

namespace LiveStems.Analysis.Comparing;

/// <summary>The power of octave bands over time, in cells of about two seconds.</summary>
internal sealed class BandCells : IBandFrameSink
{
    /// <summary>Length of a cell in seconds.</summary>
    public const double CellSeconds = 2;

    private const int BandsPerOctave = 1;

    private readonly int sampleRate;
    private readonly BandFrames frames;
    private readonly List<double>[] cells;
    private readonly long[] positions;
    private bool isFinished;

    public BandCells(int sampleRate)
    {
        this.sampleRate = sampleRate;
        Bands = FractionalOctaves.Audible(BandsPerOctave, sampleRate);
        cells = [.. Bands.Select(_ => new List<double>())];
        positions = new long[Bands.Length];
        frames = new BandFrames(Bands, sampleRate, SpectrumChannel.Both, this);
    }

    /// <summary>The bands.</summary>
    public OctaveBand[] Bands { get; }

    /// <summary>Mean power of each cell of a band.</summary>
    public IReadOnlyList<double> Of(int band)
    {
        if (!isFinished)
        {
            isFinished = true;
            frames.Finish();
        }

        return cells[band];
    }

    /// <summary>Adds any number of frames.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => frames.Add(left, right);

    void IBandFrameSink.Take(int firstBand, ReadOnlySpan<float> power, int hopFrames, bool isWhole)
    {
        for (int i = 0; i < power.Length; i++)
        {
            int band = firstBand + i;
            int cell = (int)(positions[band] / (CellSeconds * sampleRate));
            while (cells[band].Count <= cell)
            {
                cells[band].Add(0);
            }

            cells[band][cell] += power[i] * hopFrames / (CellSeconds * sampleRate);
            positions[band] += hopFrames;
        }
    }
}
