using System.Diagnostics;
using LiveStems.Dsp;

namespace LiveStems.Analysis.Probe;

/// <summary>What a second of noise costs: the shortest of several runs, so that what else the machine does counts least.</summary>
internal static class CostProbe
{
    private const int Runs = 7;
    private const double LevelDbfs = -12;

    /// <summary>Nanoseconds per stereo frame in blocks of a length.</summary>
    public static double Measure(IProbed probed, int sampleRate, int blockFrames)
    {
        float[] left = new float[blockFrames];
        float[] right = new float[blockFrames];
        Random random = new(1);
        int blocks = sampleRate / blockFrames;
        double best = double.PositiveInfinity;
        float[] noise = [.. Enumerable.Range(0, 2 * blocks * blockFrames).Select(_ => (float)((random.NextDouble() * 2 - 1) * Decibels.ToAmplitude(LevelDbfs)))];
        for (int run = 0; run < Runs; run++)
        {
            probed.Reset();
            long start = Stopwatch.GetTimestamp();
            for (int block = 0; block < blocks; block++)
            {
                noise.AsSpan(2 * block * blockFrames, blockFrames).CopyTo(left);
                noise.AsSpan((2 * block + 1) * blockFrames, blockFrames).CopyTo(right);
                probed.Process(left, right);
            }

            best = Math.Min(best, Stopwatch.GetElapsedTime(start).TotalNanoseconds);
        }

        return best / (blocks * blockFrames);
    }
}
