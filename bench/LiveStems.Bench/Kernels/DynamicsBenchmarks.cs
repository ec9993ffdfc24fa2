using BenchmarkDotNet.Attributes;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Compressor;
using LiveStems.Processing.Processors.Limiter;

namespace LiveStems.Bench.Kernels;

/// <summary>Dynamic processors.</summary>
public class DynamicsBenchmarks : ProcessorBenchmark
{
    private readonly Processor compressor = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4));
    private readonly Processor unlinked = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4), ("linkPercent", 50));
    private readonly Processor averaging = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4), ("detector", 1), ("keyHighPass", 1));
    private readonly Processor feedBack = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4), ("topology", 1));
    private readonly Processor makingUp = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4), ("autoMakeUp", 1));
    private readonly Processor limiter = Prepared(new LimiterProcessor(), ("inputGainDb", 6));

    [Benchmark]
    public void Compressor() => Run(compressor);

    [Benchmark]
    public void CompressorUnlinked() => Run(unlinked);

    [Benchmark]
    public void CompressorAveragingFilteredKey() => Run(averaging);

    [Benchmark]
    public void CompressorFeedBack() => Run(feedBack);

    [Benchmark]
    public void CompressorAutomaticMakeUp() => Run(makingUp);

    [Benchmark]
    public void Limiter() => Run(limiter);
}
