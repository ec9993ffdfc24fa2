using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.Dsp.Simd;

namespace LiveStems.Analysis.Measuring;

/// <summary>
/// Loudness over time, peak-to-short-term ratio and correlation of a programme, beside its figures as a whole. A point
/// every 0.1 s; past 4096 points, pairs are merged and points come half as often, so that memory does not grow.
/// </summary>
/// <remarks>Loudness: ITU-R BS.1770-5, EBU Tech 3341. PSR: true peak over short-term loudness (AES TD1008, from memory).</remarks>
public sealed class LoudnessTimeline
{
    /// <summary>Most points that are kept.</summary>
    public const int MostPoints = 4096;

    private const int StepsPerSecond = 10;
    private const int ShortTermSteps = 3 * StepsPerSecond;
    private const int MomentarySteps = 4;

    private readonly int sampleRate;
    private readonly ProgrammeMeter whole;
    private readonly LoudnessMeter meter;
    private readonly TruePeakMeter peakMeter = new();
    private readonly AlbumLoudness? album;
    private readonly double[] peaks = new double[ShortTermSteps];
    private readonly List<TimelinePoint> points = [];
    private TimelinePoint? waiting;
    private int stepsPerPoint = 1;
    private int stepsWaiting;
    private long steps;
    private long frames;
    private double left2;
    private double right2;
    private double both;

    /// <summary>Prepares for a programme.</summary>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="album">Takes the blocks, too; may be null.</param>
    public LoudnessTimeline(int sampleRate, AlbumLoudness? album = null)
    {
        this.sampleRate = sampleRate;
        this.album = album;
        whole = new ProgrammeMeter(sampleRate);
        meter = new LoudnessMeter(sampleRate);
    }

    /// <summary>The points so far.</summary>
    public IReadOnlyList<TimelinePoint> Points => points;

    /// <summary>Seconds between points.</summary>
    public double SecondsPerPoint => (double)stepsPerPoint / StepsPerSecond;

    /// <summary>The smallest peak-to-short-term ratio in LU; NaN when there was none.</summary>
    public double LowestPeakToShortTermLu { get; private set; } = double.NaN;

    /// <summary>Loudness of the last 0.4 s in LUFS.</summary>
    public double MomentaryLufs => meter.MomentaryLufs;

    /// <summary>Adds any number of frames; both channels have one length.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        whole.Add(left, right);
        while (left.Length > 0)
        {
            int count = (int)Math.Min(left.Length, EndOfStep(steps) - frames);
            AddWithinStep(left[..count], right[..count]);
            left = left[count..];
            right = right[count..];
        }
    }

    /// <summary>Ends the programme and reads its figures.</summary>
    public LoudnessReport Finish()
    {
        if (waiting is not null)
        {
            points.Add(waiting);
            waiting = null;
        }

        return whole.Finish();
    }

    private long EndOfStep(long step) => (step + 1) * sampleRate / StepsPerSecond;

    private void AddWithinStep(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        meter.Add(left, right);
        peakMeter.Add(left, right);
        left2 += Products.Sum(left, left);
        right2 += Products.Sum(right, right);
        both += Products.Sum(left, right);
        frames += left.Length;
        if (frames == EndOfStep(steps))
        {
            EndStep();
        }
    }

    private void EndStep()
    {
        double peak = peakMeter.TruePeakDbtp;
        peakMeter.ClearPeaks();
        peaks[steps % ShortTermSteps] = peak;
        steps++;
        bool isLong = steps >= ShortTermSteps;
        double shortTerm = isLong ? meter.ShortTermLufs : double.NaN;
        double ratio = isLong && shortTerm > -70 ? peaks.Max() - shortTerm : double.NaN;
        if (!(ratio >= LowestPeakToShortTermLu))
        {
            LowestPeakToShortTermLu = double.IsNaN(ratio) ? LowestPeakToShortTermLu : ratio;
        }

        if (steps >= MomentarySteps)
        {
            album?.AddMomentary(meter.MomentaryLufs);
        }

        if (isLong)
        {
            album?.AddShortTerm(shortTerm);
        }

        Take(new TimelinePoint((double)frames / sampleRate, meter.MomentaryLufs, shortTerm, peak, ratio, both / Math.Sqrt(left2 * right2)));
        left2 = right2 = both = 0;
    }

    private void Take(TimelinePoint point)
    {
        waiting = waiting is null ? point : Merged(waiting, point, stepsWaiting);
        if (++stepsWaiting < stepsPerPoint)
        {
            return;
        }

        points.Add(waiting);
        waiting = null;
        stepsWaiting = 0;
        if (points.Count == MostPoints)
        {
            for (int pair = 0; pair < MostPoints / 2; pair++)
            {
                points[pair] = Merged(points[2 * pair], points[2 * pair + 1], 1);
            }

            points.RemoveRange(MostPoints / 2, MostPoints / 2);
            stepsPerPoint *= 2;
        }
    }

    private static TimelinePoint Merged(TimelinePoint earlier, TimelinePoint later, int weight) => new(
        later.Seconds,
        Math.Max(earlier.MomentaryLufs, later.MomentaryLufs),
        double.IsNaN(earlier.ShortTermLufs) ? later.ShortTermLufs : Decibels.FromPower((weight * Decibels.ToPower(earlier.ShortTermLufs) + Decibels.ToPower(later.ShortTermLufs)) / (weight + 1)),
        Math.Max(earlier.TruePeakDbtp, later.TruePeakDbtp),
        double.IsNaN(earlier.PeakToShortTermLu) ? later.PeakToShortTermLu : earlier.PeakToShortTermLu > later.PeakToShortTermLu ? later.PeakToShortTermLu : earlier.PeakToShortTermLu,
        double.IsNaN(earlier.Correlation) ? later.Correlation : double.IsNaN(later.Correlation) ? earlier.Correlation : (weight * earlier.Correlation + later.Correlation) / (weight + 1));
}
