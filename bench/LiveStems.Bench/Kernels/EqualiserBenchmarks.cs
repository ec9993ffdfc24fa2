using BenchmarkDotNet.Attributes;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Equaliser;

namespace LiveStems.Bench.Kernels;

/// <summary>The equaliser: still, moving with the sound, and of linear phase.</summary>
public class EqualiserBenchmarks : ProcessorBenchmark
{
    private readonly Processor still = Prepared(new EqualiserProcessor(), ProcessorSettings.SixBands);
    private readonly Processor oneDynamic = Prepared(new EqualiserProcessor(), ProcessorSettings.Dynamic(1));
    private readonly Processor fourDynamic = Prepared(new EqualiserProcessor(), ProcessorSettings.Dynamic(4));
    private readonly Processor linear = Prepared(new EqualiserProcessor(), [.. ProcessorSettings.SixBands, ("phase", 1)]);

    [Benchmark]
    public void SixBands() => Run(still);

    [Benchmark]
    public void OneDynamicBand() => Run(oneDynamic);

    [Benchmark]
    public void FourDynamicBands() => Run(fourDynamic);

    [Benchmark]
    public void SixBandsLinearPhase() => Run(linear);
}
