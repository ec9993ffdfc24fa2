using BenchmarkDotNet.Attributes;
using LiveStems.Processing.Contract;

namespace LiveStems.Bench.Kernels;

/// <summary>The frame of all benchmarks of processors: one second of stereo programme at 48 kHz, in live and in offline blocks.</summary>
[MemoryDiagnoser]
public abstract class ProcessorBenchmark
{
    private readonly ProcessorLoad load = new();

    /// <summary>Frames a call.</summary>
    [Params(64, 512)]
    public int Block { get; set; }

    /// <summary>Prepares a processor with settings by parameter id.</summary>
    protected static Processor Prepared(Processor processor, params (string Id, double Value)[] settings) =>
        ProcessorLoad.Prepared(processor, settings);

    /// <summary>Processes the second.</summary>
    protected void Run(Processor processor) => load.Run(processor, Block);
}
