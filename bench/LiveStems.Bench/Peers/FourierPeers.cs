using BenchmarkDotNet.Attributes;
using BenchmarkDotNet.Configs;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Bench.Peers;

/// <summary>One real transform, forward or inverse, against single-precision FFTW with a measured plan.</summary>
[MemoryDiagnoser]
[GroupBenchmarksBy(BenchmarkLogicalGroupRule.ByCategory, BenchmarkLogicalGroupRule.ByParams)]
public class FourierPeers
{
    private RealFourierTransform transform = new(512);
    private Fftw? fftw;
    private float[] signal = [];
    private float[] real = [];
    private float[] imaginary = [];

    [Params(128, 512, 1024, 2048, 4096, 16_384, 65_536)]
    public int Size { get; set; }

    [GlobalSetup]
    public void Prepare()
    {
        transform = new RealFourierTransform(Size);
        signal = ProgrammeSamples.PinkNoise(Size, 1, 1);
        real = new float[transform.Bins];
        imaginary = new float[transform.Bins];
        transform.Forward(signal, real, imaginary);
        fftw = new Fftw(signal);
    }

    [GlobalCleanup]
    public void Clean() => fftw?.End();

    [Benchmark(Baseline = true, Description = "FFTW forward")]
    [BenchmarkCategory("forward")]
    public void FftwForward() => fftw!.Forward();

    [Benchmark(Description = "ours forward")]
    [BenchmarkCategory("forward")]
    public void Forward() => transform.Forward(signal, real, imaginary);

    [Benchmark(Baseline = true, Description = "FFTW inverse")]
    [BenchmarkCategory("inverse")]
    public void FftwInverse() => fftw!.Inverse();

    [Benchmark(Description = "ours inverse")]
    [BenchmarkCategory("inverse")]
    public void Inverse() => transform.Inverse(real, imaginary, signal);
}
