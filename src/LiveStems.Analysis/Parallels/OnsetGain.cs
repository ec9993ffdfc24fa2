using LiveStems.Dsp;

namespace LiveStems.Analysis.Parallels;

/// <summary>What something does to hits: the mean over all hits, in dB.</summary>
/// <param name="Hits">Hits that were measured.</param>
/// <param name="OnsetDb">Change of level in the first 20 ms.</param>
/// <param name="SustainDb">Change of level from 60 to 200 ms, or to the next hit; NaN when hits follow too closely.</param>
public sealed record OnsetGain(int Hits, double OnsetDb, double SustainDb)
{
    /// <summary>How much the onset gains over the sustain.</summary>
    public double OnsetToSustainDb => OnsetDb - SustainDb;

    /// <summary>Measures the hits of one sound against those of another.</summary>
    /// <param name="without">Without what is measured.</param>
    /// <param name="with">With it.</param>
    /// <param name="onsets">First steps of the hits.</param>
    internal static OnsetGain Between(EnergyCurve without, EnergyCurve with, IReadOnlyList<int> onsets)
    {
        List<double> onset = [];
        List<double> sustain = [];
        for (int i = 0; i < onsets.Count; i++)
        {
            int start = onsets[i];
            int end = Math.Min(start + Onsets.SustainEnd, i + 1 < onsets.Count ? onsets[i + 1] : int.MaxValue);
            Add(onset, without, with, start, start + Onsets.OnsetSteps);
            if (end - start > Onsets.SustainStart)
            {
                Add(sustain, without, with, start + Onsets.SustainStart, end);
            }
        }

        return new OnsetGain(onset.Count, onset.Count == 0 ? double.NaN : onset.Average(), sustain.Count == 0 ? double.NaN : sustain.Average());
    }

    private static void Add(List<double> gains, EnergyCurve without, EnergyCurve with, int from, int to)
    {
        double before = without.Sum(from, to);
        double after = with.Sum(from, to);
        if (before > 0 && after > 0)
        {
            gains.Add(Decibels.FromPower(after / before));
        }
    }
}
