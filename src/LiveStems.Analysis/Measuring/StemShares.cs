using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;

namespace LiveStems.Analysis.Measuring;

/// <summary>
/// Works out who makes a sum loud and who makes its peaks, from all its parts side by side. Memory depends on the number of
/// parts alone.
/// </summary>
internal sealed class StemShares
{
    private const double RelativeGateLu = -10;
    private const double GateLufs = -70;
    private const int GateSteps = 100;
    private const int StepsPerSecond = 10;
    private const int KeptPeaks = 100;

    private readonly int sampleRate;
    private readonly LoudnessMeter sumMeter;
    private readonly LoudnessMeter[] meters;

    // K-weighted energy of each part by the loudness of the sum at the time, in steps of 1 LU from the absolute gate.
    private readonly double[,] energies;
    private readonly List<(double Peak, double[] Shares)> peaks = [];
    private long frames;
    private long steps;
    private double stepPeak;
    private double[] stepShares;

    public StemShares(int parts, int sampleRate)
    {
        this.sampleRate = sampleRate;
        sumMeter = new LoudnessMeter(sampleRate);
        meters = [.. Enumerable.Range(0, parts).Select(_ => new LoudnessMeter(sampleRate))];
        energies = new double[parts, GateSteps];
        stepShares = new double[parts];
    }

    /// <summary>Adds frames of the sum and of every part.</summary>
    public void Add(float[][] sum, float[][][] parts, int count)
    {
        int done = 0;
        while (done < count)
        {
            int length = (int)Math.Min(count - done, (steps + 1) * sampleRate / StepsPerSecond - frames);
            int from = done;
            sumMeter.Add(sum[0].AsSpan(from, length), sum[1].AsSpan(from, length));
            Parallel.For(0, meters.Length, part => meters[part].Add(parts[part][0].AsSpan(from, length), parts[part][1].AsSpan(from, length)));
            FindPeak(sum, parts, from, length);
            done += length;
            frames += length;
            if (frames == (steps + 1) * sampleRate / StepsPerSecond)
            {
                EndStep();
            }
        }
    }

    public IReadOnlyList<StemShare> Finish(IReadOnlyList<string> names)
    {
        EndStep();
        int gate = (int)Math.Clamp(Math.Ceiling(sumMeter.IntegratedLufs + RelativeGateLu - GateLufs), 0, GateSteps - 1);
        double[] gated = [.. Enumerable.Range(0, meters.Length).Select(part => Enumerable.Range(gate, GateSteps - gate).Sum(step => energies[part, step]))];
        double total = gated.Sum();
        return [.. names.Select((name, part) => new StemShare(
            name,
            meters[part].IntegratedLufs,
            total > 0 ? gated[part] / total : 0,
            peaks.Count == 0 ? 0 : peaks.Average(peak => peak.Shares[part])))];
    }

    private void FindPeak(float[][] sum, float[][][] parts, int from, int length)
    {
        int side = 0, place = -1;
        for (int each = 0; each < 2; each++)
        {
            for (int n = from; n < from + length; n++)
            {
                if (Math.Abs(sum[each][n]) > stepPeak)
                {
                    stepPeak = Math.Abs(sum[each][n]);
                    (side, place) = (each, n);
                }
            }
        }

        if (place >= 0)
        {
            for (int part = 0; part < stepShares.Length; part++)
            {
                stepShares[part] = parts[part][side][place] / (double)sum[side][place];
            }
        }
    }

    private void EndStep()
    {
        steps++;
        double loudness = sumMeter.MomentaryLufs;
        if (loudness > GateLufs)
        {
            int step = (int)Math.Min(loudness - GateLufs, GateSteps - 1);
            for (int part = 0; part < meters.Length; part++)
            {
                energies[part, step] += Decibels.ToPower(meters[part].MomentaryLufs);
            }
        }

        if (stepPeak > 0)
        {
            KeepPeak();
        }

        stepPeak = 0;
    }

    private void KeepPeak()
    {
        if (peaks.Count == KeptPeaks)
        {
            int smallest = 0;
            for (int i = 1; i < peaks.Count; i++)
            {
                smallest = peaks[i].Peak < peaks[smallest].Peak ? i : smallest;
            }

            if (peaks[smallest].Peak >= stepPeak)
            {
                return;
            }

            peaks.RemoveAt(smallest);
        }

        peaks.Add((stepPeak, stepShares));
        stepShares = new double[stepShares.Length];
    }
}
