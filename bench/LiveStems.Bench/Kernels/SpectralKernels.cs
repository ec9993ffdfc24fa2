using BenchmarkDotNet.Attributes;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Bench.Kernels;

/// <summary>A second of stereo sound at 48 kHz through spectral frames and long filters, in blocks of 64 frames.</summary>
[MemoryDiagnoser]
public class SpectralKernels
{
    private const int SampleRate = 48_000;
    private const int FramesAtOnce = 64;

    private readonly ShortTimeTransform shortTime = new(2048, 4, new Unchanged());
    private readonly PartitionedConvolver equaliserLength = Convolver(256, 8192);
    private readonly PartitionedConvolver roomLength = Convolver(512, 65_536);
    private readonly DoubleFourierTransform precise = new(65_536);
    private readonly float[] left = ProgrammeSamples.PinkNoise(SampleRate, 1, 1);
    private readonly float[] right = ProgrammeSamples.PinkNoise(SampleRate, 1, 2);
    private readonly float[] leftBlock = new float[FramesAtOnce];
    private readonly float[] rightBlock = new float[FramesAtOnce];
    private readonly double[] samples = new double[65_536];
    private readonly double[] real = new double[32_769];
    private readonly double[] imaginary = new double[32_769];

    [Benchmark(Description = "short-time transform, 2048 frames, fourfold")]
    public float ShortTime()
    {
        for (int start = 0; start < SampleRate; start += FramesAtOnce)
        {
            CopyBlock(start);
            shortTime.Process(leftBlock, rightBlock);
        }

        return leftBlock[0];
    }

    [Benchmark(Description = "8192 taps in partitions of 256")]
    public float EqualiserLength() => Convolve(equaliserLength);

    [Benchmark(Description = "65536 taps in partitions of 512")]
    public float RoomLength() => Convolve(roomLength);

    [Benchmark(Description = "double transform of 65536")]
    public void PreciseTransform() => precise.Forward(samples, real, imaginary);

    private static PartitionedConvolver Convolver(int partition, int taps)
    {
        ConvolutionFilter filter = new(partition, taps);
        filter.SetTaps(ProgrammeSamples.PinkNoise(taps, 1, 3));
        return new PartitionedConvolver(filter, filter);
    }

    private float Convolve(PartitionedConvolver convolver)
    {
        for (int start = 0; start < SampleRate; start += FramesAtOnce)
        {
            CopyBlock(start);
            convolver.Process(leftBlock, rightBlock);
        }

        return leftBlock[0];
    }

    private void CopyBlock(int start)
    {
        left.AsSpan(start, FramesAtOnce).CopyTo(leftBlock);
        right.AsSpan(start, FramesAtOnce).CopyTo(rightBlock);
    }

    private sealed class Unchanged : ISpectrumEditor
    {
        public void Edit(in StereoSpectrum spectrum)
        {
        }
    }
}
