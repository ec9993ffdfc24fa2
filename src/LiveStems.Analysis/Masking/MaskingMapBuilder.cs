using System.Collections.Immutable;
using LiveStems.Analysis.Hearing;

namespace LiveStems.Analysis.Masking;

/// <summary>From counts to shares and pairs.</summary>
internal sealed class MaskingMapBuilder(MaskingCounter counter, ImmutableArray<string> names, double seconds)
{
    private const double LeastShare = 0.2;
    private const double LeastSoundingShare = 0.03;

    public MaskingMap Build()
    {
        int stems = names.Length;
        double frames = Math.Max(1, counter.Frames);
        List<MaskingPair> pairs = [];
        for (int covered = 0; covered < stems; covered++)
        {
            for (int by = 0; by < stems; by++)
            {
                if (by != covered && Pair(covered, by) is { } pair)
                {
                    pairs.Add(pair);
                }
            }
        }

        return new MaskingMap(
            names,
            [.. Enumerable.Range(0, MaskingCounter.Bands).Select(ExcitationPattern.CentreHz)],
            [.. Enumerable.Range(0, stems).Select(stem => Bands(band => counter.Sounding[stem, band] / frames))],
            [.. Enumerable.Range(0, stems).Select(stem => Bands(band => Share(counter.CoveredByAll[stem, band], counter.Sounding[stem, band])))],
            [.. Enumerable.Range(0, stems).Select(covered => Enumerable.Range(0, stems).Select(by => PairShare(covered, by)).ToImmutableArray())],
            [.. pairs.OrderByDescending(pair => pair.Weight)])
        {
            PairBandShare = [.. Enumerable.Range(0, stems).Select(covered => Enumerable.Range(0, stems)
                .Select(by => Bands(band => Share(counter.Covered[covered, by, band], counter.Sounding[covered, band]))).ToImmutableArray())],
        };
    }

    // The stretch of neighbouring bands, covered often enough, that weighs most.
    private MaskingPair? Pair(int covered, int by)
    {
        double frames = Math.Max(1, counter.Frames);
        double secondsPerFrame = seconds / frames;
        (int First, int End, double Weight) best = (0, 0, 0);
        int first = -1;
        double weight = 0;
        for (int band = 0; band <= MaskingCounter.Bands; band++)
        {
            bool holds = band < MaskingCounter.Bands
                && counter.Sounding[covered, band] >= LeastSoundingShare * frames
                && Share(counter.Covered[covered, by, band], counter.Sounding[covered, band]) >= LeastShare;
            if (holds)
            {
                first = first < 0 ? band : first;
                weight += counter.Covered[covered, by, band] * secondsPerFrame;
            }
            else if (first >= 0)
            {
                best = weight > best.Weight ? (first, band, weight) : best;
                first = -1;
                weight = 0;
            }
        }

        if (best.Weight <= 0)
        {
            return null;
        }

        long sounding = 0;
        long hidden = 0;
        for (int band = best.First; band < best.End; band++)
        {
            sounding += counter.Sounding[covered, band];
            hidden += counter.Covered[covered, by, band];
        }

        return new MaskingPair(
            names[covered],
            names[by],
            CamScale.ToHz(ExcitationPattern.FirstCam + best.First - 0.5),
            CamScale.ToHz(ExcitationPattern.FirstCam + best.End - 0.5),
            Share(hidden, sounding),
            best.Weight,
            counter.Ranges(covered, by, seconds));
    }

    private double PairShare(int covered, int by)
    {
        long sounding = 0;
        long hidden = 0;
        for (int band = 0; band < MaskingCounter.Bands; band++)
        {
            sounding += counter.Sounding[covered, band];
            hidden += counter.Covered[covered, by, band];
        }

        return Share(hidden, sounding);
    }

    private static ImmutableArray<double> Bands(Func<int, double> valueOf) => [.. Enumerable.Range(0, MaskingCounter.Bands).Select(valueOf)];

    private static double Share(long part, long whole) => whole == 0 ? 0 : (double)part / whole;
}
