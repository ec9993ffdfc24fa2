using LiveStems.Analysis.Hearing;
using LiveStems.Analysis.Spectra;
using LiveStems.Analysis.Trouble;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Bench.Planted;

/// <summary>
/// Whether a planted resonance can be heard at all, by the sound with it and without regard to the search: over the time it
/// lasts, the level of its equivalent rectangular band is within 30 dB of the loudest such band, and at least 3 dB above the
/// straight line (dB over ERB number) through the bands 1.5 to 4 ERB to either side.
/// </summary>
internal sealed class PlantedAudibility : IPowerFrameSink
{
    /// <summary>Farthest below the loudest band, dB.</summary>
    public const double BelowLoudestDb = 30;

    /// <summary>Least height above the line through the bands around, dB.</summary>
    public const double AboveTrendDb = 3;

    private const int FrameSize = 8192;
    private const double NearestCam = 1.5;
    private const double FarthestCam = 4;
    private const double LowestHz = 40;
    private const double HighestShareOfRate = 0.42;

    private readonly IReadOnlyList<TimeRange> ranges;
    private readonly double hopSeconds;
    private readonly double binHz;
    private readonly double highestHz;
    private readonly double[] spectrum = new double[FrameSize / 2 + 1];
    private long frame;

    private PlantedAudibility(int sampleRate, IReadOnlyList<TimeRange> ranges)
    {
        this.ranges = ranges;
        hopSeconds = FrameSize / 4.0 / sampleRate;
        binHz = (double)sampleRate / FrameSize;
        highestHz = HighestShareOfRate * sampleRate;
    }

    /// <summary>Whether a resonance in a sound that contains it can be heard.</summary>
    public static bool IsAudible(float[][] sound, int sampleRate, PlantedResonance planted)
    {
        PlantedAudibility levels = new(sampleRate, planted.Ranges);
        PowerFrames frames = new(FrameSize, SpectrumChannel.Both, levels);
        frames.Add(sound[0], sound[^1]);
        return levels.IsHeard(planted.FrequencyHz);
    }

    void IPowerFrameSink.Take(ReadOnlySpan<float> bins, bool isWhole)
    {
        double at = ++frame * hopSeconds - 2 * hopSeconds;
        if (ranges.Any(range => range.StartSeconds <= at && at < range.EndSeconds))
        {
            for (int bin = 0; bin < spectrum.Length; bin++)
            {
                spectrum[bin] += bins[bin];
            }
        }
    }

    private bool IsHeard(double frequencyHz)
    {
        double own = Level(frequencyHz);
        double cam = CamScale.FromHz(frequencyHz);
        double loudest = own;
        for (double at = CamScale.FromHz(LowestHz); CamScale.ToHz(at) < highestHz; at += 0.5)
        {
            loudest = Math.Max(loudest, Level(CamScale.ToHz(at)));
        }

        return own > loudest - BelowLoudestDb && own > LineAt(cam) + AboveTrendDb;
    }

    // Least squares over x = distance in Cam; its value at 0.
    private double LineAt(double cam)
    {
        double n = 0, sx = 0, sxx = 0, sy = 0, sxy = 0;
        for (double away = NearestCam; away <= FarthestCam; away += 0.5)
        {
            foreach (double x in (ReadOnlySpan<double>)[-away, away])
            {
                double hz = CamScale.ToHz(cam + x);
                if (hz > LowestHz && hz < highestHz)
                {
                    double y = Level(hz);
                    (n, sx, sxx, sy, sxy) = (n + 1, sx + x, sxx + x * x, sy + y, sxy + x * y);
                }
            }
        }

        return (sxx * sy - sx * sxy) / (sxx * n - sx * sx);
    }

    private double Level(double hz)
    {
        double half = ErbScale.BandwidthHz(hz) / 2;
        int first = (int)Math.Round((hz - half) / binHz);
        int last = Math.Min(spectrum.Length - 1, (int)Math.Round((hz + half) / binHz));
        double sum = 1e-20;
        for (int bin = Math.Max(1, first); bin <= last; bin++)
        {
            sum += spectrum[bin];
        }

        return 10 * Math.Log10(sum);
    }
}
