using LiveStems.Engine.Live;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.ResonanceSuppressor;

namespace LiveStems.View.Desk;

/// <summary>Gain that moves with the sound, over frequency, of all processors of a chain that have one, on the points of a spectrum.</summary>
internal sealed class ReductionCurve
{
    private readonly IReadOnlyList<double> frequencies;
    private readonly int sampleRate;
    private readonly float[] sum;

    public ReductionCurve(IReadOnlyList<double> frequencies, int sampleRate)
    {
        this.frequencies = frequencies;
        this.sampleRate = sampleRate;
        sum = new float[frequencies.Count];
    }

    public float[] Db => sum;

    public void Take(IReadOnlyList<ProcessorModel> processors, TapPlace selection)
    {
        Array.Clear(sum);
        foreach (ProcessorModel processor in processors)
        {
            if (processor.IsBypassed || (selection.Slot is not null && selection.Slot != processor.Id))
            {
                continue;
            }

            switch (processor.Running)
            {
                case ResonanceSuppressorProcessor suppressor:
                    AddBins(suppressor.LatestReductionDb());
                    break;
                case ISpectralReduction shown:
                    AddPoints(shown.ReductionFrequenciesHz, shown.LatestReductionDb());
                    break;
            }
        }
    }

    // Where several bins lie in one point's band the deepest of them counts; where none does, the line between neighbours.
    private void AddBins(ReadOnlySpan<float> bins)
    {
        double binHz = sampleRate / (2.0 * (bins.Length - 1));
        double halfPoint = Math.Sqrt(frequencies[1] / frequencies[0]);
        for (int i = 0; i < sum.Length; i++)
        {
            int first = (int)Math.Ceiling(frequencies[i] / halfPoint / binHz);
            int last = Math.Min((int)Math.Floor(frequencies[i] * halfPoint / binHz), bins.Length - 1);
            sum[i] += first <= last ? Deepest(bins[first..(last + 1)]) : Between(bins, frequencies[i] / binHz);
        }
    }

    private void AddPoints(ReadOnlySpan<float> at, ReadOnlySpan<float> curve)
    {
        int right = 0;
        for (int i = 0; i < sum.Length && at.Length > 0; i++)
        {
            while (right < at.Length && at[right] < frequencies[i])
            {
                right++;
            }

            int left = Math.Max(right - 1, 0);
            int next = Math.Min(right, at.Length - 1);
            double span = at[next] - at[left];
            double share = span > 0 ? (frequencies[i] - at[left]) / span : 0;
            sum[i] += (float)(curve[left] + (curve[next] - curve[left]) * Math.Clamp(share, 0, 1));
        }
    }

    private static float Deepest(ReadOnlySpan<float> bins)
    {
        float deepest = 0;
        foreach (float bin in bins)
        {
            deepest = Math.Min(deepest, bin);
        }

        return deepest;
    }

    private static float Between(ReadOnlySpan<float> bins, double place)
    {
        int left = Math.Min((int)place, bins.Length - 2);
        return bins[left] + (bins[left + 1] - bins[left]) * (float)(place - left);
    }
}
