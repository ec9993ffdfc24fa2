using LiveStems.Dsp.Loudness;

namespace LiveStems.Tests.Dsp.Loudness;

/// <summary>
/// Loudness straight from the standards' text: the whole programme filtered in one piece, every window summed sample by
/// sample, every block kept and sorted. Slow and plain.
/// </summary>
internal sealed class LoudnessOracle
{
    private const double Offset = -0.691;

    private readonly double[] sums;
    private readonly int sampleRate;

    public LoudnessOracle(int sampleRate, float[] left, float[] right)
    {
        this.sampleRate = sampleRate;
        double[] first = Weighted(sampleRate, left);
        double[] second = Weighted(sampleRate, right);
        sums = new double[left.Length + 1];
        for (int n = 0; n < left.Length; n++)
        {
            sums[n + 1] = sums[n] + first[n] * first[n] + second[n] * second[n];
        }
    }

    public double MaximumMomentaryLufs => Lufs(Windows(0.4, 0.01, includePartial: true).Max());

    public double MaximumShortTermLufs => Lufs(Windows(3, 0.01, includePartial: true).Max());

    public double IntegratedLufs
    {
        get
        {
            double[] blocks = [.. Windows(0.4, 0.1, includePartial: false).Where(block => Lufs(block) > -70)];
            if (blocks.Length == 0)
            {
                return double.NegativeInfinity;
            }

            double gate = Lufs(blocks.Average()) - 10;
            return Lufs(blocks.Where(block => Lufs(block) > gate).Average());
        }
    }

    public double LoudnessRangeLu
    {
        get
        {
            double[] values = [.. Windows(3, 0.1, includePartial: false).Where(value => Lufs(value) >= -70)];
            if (values.Length == 0)
            {
                return 0;
            }

            double gate = Lufs(values.Average()) - 20;
            double[] kept = [.. values.Select(Lufs).Where(value => value >= gate).Order()];
            return Percentile(kept, 95) - Percentile(kept, 10);
        }
    }

    /// <summary>K-weighting sample by sample, in transposed direct form II.</summary>
    public static double[] Weighted(int sampleRate, float[] samples)
    {
        KWeighting weighting = new(sampleRate);
        MatchedShelf shelf = weighting.Shelf;
        double gain = weighting.HighPassGain;
        double s1 = 0, s2 = 0, h1 = 0, h2 = 0;
        double[] output = new double[samples.Length];
        for (int n = 0; n < samples.Length; n++)
        {
            double x = samples[n];
            double y = shelf.B0 * x + s1;
            s1 = shelf.B1 * x - shelf.A1 * y + s2;
            s2 = shelf.B2 * x - shelf.A2 * y;
            double z = gain * y + h1;
            h1 = -2 * gain * y - weighting.HighPassA1 * z + h2;
            h2 = gain * y - weighting.HighPassA2 * z;
            output[n] = z;
        }

        return output;
    }

    private static double Lufs(double meanSquare) => Offset + 10 * Math.Log10(meanSquare);

    private static double Percentile(double[] ascending, double percent)
    {
        int number = (int)Math.Round((ascending.Length - 1) * percent / 100 + 1, MidpointRounding.AwayFromZero);
        return ascending[number - 1];
    }

    private IEnumerable<double> Windows(double length, double hop, bool includePartial)
    {
        int hops = (int)Math.Round(length / hop);
        for (int last = includePartial ? 1 : hops; FrameAt(last * hop) < sums.Length; last++)
        {
            int end = FrameAt(last * hop);
            int start = FrameAt((last - hops) * hop);
            yield return (sums[end] - sums[Math.Max(0, start)]) / (end - start);
        }
    }

    // The nearest frame, halves up.
    private int FrameAt(double seconds) => (int)Math.Floor(Math.Round(seconds * 100) * sampleRate / 100 + 0.5);
}
