using LiveStems.Dsp.Simd;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>The declared latency is the true one: or everything beside the processor is out of step with it.</summary>
internal static class LatencyCheck
{
    // Half a second beyond what is declared.
    private const int LagsBeyond = VettingRun.SampleRate / 2;
    private const int Window = 4096;
    private const int Block = 256;

    // Below this share of the sound that correlates, a delay says nothing: reverberation, pitch, gates.
    private const double ClearShare = 0.5;
    private const int Tolerance = 1;

    // So small that dynamic processors leave it alone.
    private const double Level = 1e-3;

    public static VettingFinding? Latency(Func<Processor> make, VettingSituation situation)
    {
        VettingRun run = new(make, Block, situation);
        int declared = run.Processor.LatencyFrames;
        if (!DeclaredLatency.IsWithin(declared, new ProcessingFormat(VettingRun.SampleRate, Block)))
        {
            // That is found, and refused, where formats are tried.
            return null;
        }

        int lags = declared + LagsBeyond;
        (float[] left, float[] right) = VettingRun.Noise(lags + Window, 5, Level);
        (float[] output, _) = run.Run(left, right, Block);
        (int lag, double share) = Strongest(left, output, lags);
        return share < ClearShare || Math.Abs(lag - declared) <= Tolerance
            ? null
            : new VettingFinding("latency", false, $"declares {declared} frames of latency and takes {lag}{situation.Words}: what it works on is out of step with the rest");
    }

    // The lag of the largest normalised cross-correlation, and its magnitude.
    private static (int Lag, double Share) Strongest(float[] input, float[] output, int lags)
    {
        ReadOnlySpan<float> heard = input.AsSpan(0, Window);
        double inputPower = Products.Sum(heard, heard);
        (int Lag, double Share) best = (0, 0);
        for (int lag = 0; lag < lags; lag++)
        {
            ReadOnlySpan<float> later = output.AsSpan(lag, Window);
            double share = Math.Abs(Products.Sum(heard, later)) / Math.Sqrt(inputPower * Products.Sum(later, later) + double.Epsilon);
            if (share > best.Share)
            {
                best = (lag, share);
            }
        }

        return best;
    }
}
