using System.Numerics;

namespace LiveStems.Analysis.Intake;

/// <summary>Finds stems that share sound: spill, doubles, the same part delivered twice, and how they are aligned.</summary>
internal static class StemRelations
{
    private const double LeastShare = 0.25;

    /// <summary>Looks at every pair of stems.</summary>
    public static IReadOnlyList<StemRelation> Find(CrossSpectra spectra, int stems)
    {
        (int First, int Second)[] pairs = [.. from first in Enumerable.Range(0, stems) from second in Enumerable.Range(first + 1, stems - first - 1) select (first, second)];
        StemRelation?[] relations = new StemRelation?[pairs.Length];
        Parallel.For(0, pairs.Length, place => relations[place] = Relation(spectra, pairs[place].First, pairs[place].Second));
        return [.. relations.OfType<StemRelation>()];
    }

    private static StemRelation? Relation(CrossSpectra spectra, int first, int second)
    {
        Complex[][] responses = [new Complex[spectra.Bins], new Complex[spectra.Bins]];
        double[][] weights = [new double[spectra.Bins], new double[spectra.Bins]];
        double chance = Math.Min(4 / Math.Max(0.9 * spectra.Frames - 1, 1), 0.9);
        double sharedFirst = 0, sharedSecond = 0, powerFirst = 0, powerSecond = 0;
        for (int side = 0; side < 2; side++)
        {
            for (int bin = 1; bin < spectra.Bins; bin++)
            {
                double a = spectra.Power(first, side, bin), b = spectra.Power(second, side, bin);
                powerFirst += a;
                powerSecond += b;
                if (a > 0 && b > 0)
                {
                    Complex cross = spectra.At(first, second, side, bin);
                    double coherence = (cross.Real * cross.Real + cross.Imaginary * cross.Imaginary) / (a * b);
                    double weight = Math.Max((coherence - chance) / (1 - chance), 0);
                    weights[side][bin] = weight;
                    responses[side][bin] = cross;
                    sharedFirst += weight * a;
                    sharedSecond += weight * b;
                }
            }
        }

        double share = powerFirst > 0 && powerSecond > 0 ? Math.Max(sharedFirst / powerFirst, sharedSecond / powerSecond) : 0;
        if (share < LeastShare)
        {
            return null;
        }

        DelayEstimate delay = new DelaySearch(spectra.Size).Find(responses, weights);
        return delay.IsKnown && delay.Agreement >= 0.5
            ? new StemRelation(first, second, share, delay.Frames, delay.Signs.Sum() < 0)
            : null;
    }
}
