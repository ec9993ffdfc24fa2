using BenchmarkDotNet.Attributes;
using LiveStems.Dsp.Loudness;

namespace LiveStems.Bench.Kernels;

/// <summary>The parts of loudness measurement, per second of stereo sound at 48 kHz.</summary>
[MemoryDiagnoser]
public class LoudnessKernels
{
    private const int SampleRate = 48_000;
    private const int FramesAtOnce = 512;

    private readonly LoudnessMeter loudness = new(SampleRate);
    private readonly TruePeakMeter truePeak = new();
    private readonly KWeightedPair weighting = new(new KWeighting(SampleRate), 1, 1);
    private readonly float[] left = ProgrammeSamples.PinkNoise(SampleRate, 1, 1);
    private readonly float[] right = ProgrammeSamples.PinkNoise(SampleRate, 1, 2);

    /// <summary>A minute for the readings to look at.</summary>
    [GlobalSetup]
    public void Fill()
    {
        for (int second = 0; second < 60; second++)
        {
            Loudness();
        }
    }

    [Benchmark]
    public double KWeightedEnergy()
    {
        for (int start = 0; start + FramesAtOnce <= SampleRate; start += FramesAtOnce)
        {
            weighting.Add(left.AsSpan(start, FramesAtOnce), right.AsSpan(start, FramesAtOnce));
        }

        return weighting.TakeEnergy();
    }

    [Benchmark]
    public double Loudness()
    {
        for (int start = 0; start + FramesAtOnce <= SampleRate; start += FramesAtOnce)
        {
            loudness.Add(left.AsSpan(start, FramesAtOnce), right.AsSpan(start, FramesAtOnce));
        }

        return loudness.MomentaryLufs;
    }

    [Benchmark]
    public double TruePeak()
    {
        for (int start = 0; start + FramesAtOnce <= SampleRate; start += FramesAtOnce)
        {
            truePeak.Add(left.AsSpan(start, FramesAtOnce), right.AsSpan(start, FramesAtOnce));
        }

        return truePeak.TruePeakDbtp;
    }

    [Benchmark]
    public double ReadIntegrated() => loudness.IntegratedLufs;

    [Benchmark]
    public double ReadRange() => loudness.LoudnessRangeLu;
}
