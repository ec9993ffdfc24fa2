using LiveStems.Dsp;

namespace LiveStems.Analysis.Parallels;

/// <summary>
/// Finds where hits begin: the energy of the next 5 ms stands at least 9 dB above that of the 30 ms before, lies within 25 dB
/// of the loudest hit, and the last hit is 80 ms ago or more. Values from common practice.
/// </summary>
internal static class Onsets
{
    /// <summary>Steps (milliseconds) that count as the onset of a hit.</summary>
    public const int OnsetSteps = 20;

    /// <summary>Where the sustain of a hit begins.</summary>
    public const int SustainStart = 60;

    /// <summary>Where it ends, if no other hit comes before.</summary>
    public const int SustainEnd = 200;

    private const int AttackSteps = 5;
    private const int PastSteps = 30;
    private const int ShortestGap = 80;

    private static readonly double Rise = Decibels.ToPower(9);
    private static readonly double LoudestShare = Decibels.ToPower(-25);

    /// <summary>First steps of the hits, in order.</summary>
    public static List<int> In(EnergyCurve curve)
    {
        int steps = curve.Steps.Count;
        double[] attack = new double[steps];
        double loudest = 0;
        for (int i = 0; i < steps; i++)
        {
            attack[i] = curve.Sum(i, i + AttackSteps) / AttackSteps;
            loudest = Math.Max(loudest, attack[i]);
        }

        List<int> found = [];
        for (int i = 0; i < steps; i++)
        {
            double past = curve.Sum(i - PastSteps, i) / PastSteps;
            bool isHit = loudest > 0 && attack[i] > loudest * LoudestShare && attack[i] > past * Rise;
            if (isHit && (found.Count == 0 || i - found[^1] >= ShortestGap))
            {
                found.Add(FirstRise(curve, i, attack[i]));
            }
        }

        return found;
    }

    // The attack window reaches ahead; the hit begins where its energy does.
    private static int FirstRise(EnergyCurve curve, int from, double attack)
    {
        for (int i = from; i < from + AttackSteps && i < curve.Steps.Count; i++)
        {
            if (curve.Steps[i] > attack / 4)
            {
                return i;
            }
        }

        return from;
    }
}
