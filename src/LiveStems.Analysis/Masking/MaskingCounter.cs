using LiveStems.Analysis.Hearing;
using LiveStems.Analysis.Trouble;
using LiveStems.Engine.Offline;

namespace LiveStems.Analysis.Masking;

/// <summary>Counts, frame by frame and band by band, which stems sound and which others cover them.</summary>
internal sealed class MaskingCounter : IStemSink
{
    /// <summary>Bands one Cam apart, 58 Hz to 15.9 kHz.</summary>
    public const int Bands = 38;

    /// <summary>
    /// A sound is not heard when its excitation lies this far below that of another: B. C. J. Moore, B. R. Glasberg and T. Baer,
    /// Journal of the Audio Engineering Society 45 (1997), K = −3 dB from 500 Hz up (from memory).
    /// </summary>
    public const double CoverDb = 3;

    /// <summary>Of a stem's excitation only what lies no farther than this below its own strongest band counts as its sound, dB.</summary>
    public const double OwnRangeDb = 25;

    private const double CoveredBandsShare = 0.5;

    private readonly StemBands[] stems;
    private readonly double[][] frame;
    private readonly double[] quiet;
    private readonly RangeList[,] ranges;
    private readonly int[,] coveredNow;
    private readonly int[] soundingNow;
    private long frames;

    public MaskingCounter(int stemCount, int sampleRate, double listeningLevelDb)
    {
        stems = [.. Enumerable.Range(0, stemCount).Select(_ => new StemBands(sampleRate, Bands, listeningLevelDb))];
        frame = new double[stemCount][];
        quiet = [.. Enumerable.Range(0, Bands).Select(band => Math.Pow(10, EqualLoudness.ThresholdOfHearingDb(ExcitationPattern.CentreHz(band)) / 10))];
        Sounding = new long[stemCount, Bands];
        Covered = new long[stemCount, stemCount, Bands];
        CoveredByAll = new long[stemCount, Bands];
        ranges = new RangeList[stemCount, stemCount];
        coveredNow = new int[stemCount, stemCount];
        soundingNow = new int[stemCount];
        for (int a = 0; a < stemCount; a++)
        {
            for (int b = 0; b < stemCount; b++)
            {
                ranges[a, b] = new RangeList(1);
            }
        }
    }

    /// <summary>Frames in which a stem sounds in a band.</summary>
    public long[,] Sounding { get; }

    /// <summary>Of those, frames in which another covers it: covered stem, covering stem, band.</summary>
    public long[,,] Covered { get; }

    /// <summary>Of those, frames in which the others together cover it.</summary>
    public long[,] CoveredByAll { get; }

    public long Frames => frames;

    public System.Collections.Immutable.ImmutableArray<TimeRange> Ranges(int covered, int by, double seconds) => ranges[covered, by].Within(seconds);

    public void Write(int stem, ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        stems[stem].Add(left, right);
        while (Array.TrueForAll(stems, each => each.IsReady))
        {
            for (int each = 0; each < stems.Length; each++)
            {
                frame[each] = stems[each].Take();
            }

            Count();
        }
    }

    private void Count()
    {
        double cover = Math.Pow(10, CoverDb / 10);
        double own = Math.Pow(10, -OwnRangeDb / 10);
        Array.Clear(coveredNow);
        Array.Clear(soundingNow);
        double[] strongest = [.. frame.Select(bands => bands.Max() * own)];
        for (int band = 0; band < Bands; band++)
        {
            double all = frame.Sum(bands => bands[band]);
            for (int stem = 0; stem < frame.Length; stem++)
            {
                double level = frame[stem][band];
                if (level <= quiet[band] || level <= strongest[stem])
                {
                    continue;
                }

                Sounding[stem, band]++;
                soundingNow[stem]++;
                CoveredByAll[stem, band] += all - level > cover * level ? 1 : 0;
                for (int other = 0; other < frame.Length; other++)
                {
                    if (other != stem && frame[other][band] > cover * level)
                    {
                        Covered[stem, other, band]++;
                        coveredNow[stem, other]++;
                    }
                }
            }
        }

        double at = stems[0].FirstSeconds + frames * stems[0].HopSeconds;
        frames++;
        for (int stem = 0; stem < frame.Length; stem++)
        {
            for (int other = 0; other < frame.Length; other++)
            {
                if (coveredNow[stem, other] > 0 && coveredNow[stem, other] >= CoveredBandsShare * soundingNow[stem])
                {
                    ranges[stem, other].Add(new TimeRange(at, at + stems[0].HopSeconds));
                }
            }
        }
    }
}
