using BenchmarkDotNet.Attributes;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.DeEsser;
using LiveStems.Processing.Processors.ResonanceSuppressor;
using LiveStems.Processing.Processors.Room;

namespace LiveStems.Bench.Kernels;

/// <summary>Resonance suppressor, de-esser and room.</summary>
public class SpectralProcessorBenchmarks : ProcessorBenchmark
{
    private readonly Processor resonanceSuppressor = Prepared(new ResonanceSuppressorProcessor());
    private readonly Processor deEsser = Prepared(new DeEsserProcessor());
    private readonly Processor room = Prepared(new RoomProcessor());

    [Benchmark]
    public void ResonanceSuppressor() => Run(resonanceSuppressor);

    [Benchmark]
    public void DeEsser() => Run(deEsser);

    [Benchmark]
    public void Room() => Run(room);
}
