using BenchmarkDotNet.Attributes;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Expander;
using LiveStems.Processing.Processors.Saturator;
using LiveStems.Processing.Processors.SoftClipper;
using LiveStems.Processing.Processors.TransientShaper;
using LiveStems.Processing.Processors.Width;

namespace LiveStems.Bench.Kernels;

/// <summary>Gates, shapers, curves and width.</summary>
public class ShapingBenchmarks : ProcessorBenchmark
{
    private const int Sixteenfold = 3;

    private readonly Processor expander = Prepared(new ExpanderProcessor(), ("keyHighPass", 1), ("keyLowPass", 1));
    private readonly Processor transientShaper = Prepared(new TransientShaperProcessor(), ("sustainDb", 3));
    private readonly Processor softClipper = Prepared(new SoftClipperProcessor(), ("inputGainDb", 6));
    private readonly Processor saturator = Prepared(new SaturatorProcessor(), ("driveDb", 12));
    private readonly Processor saturatorBest = Prepared(new SaturatorProcessor(), ("driveDb", 12), ("oversampling", Sixteenfold));
    private readonly Processor width = Prepared(new WidthProcessor(), ("monoBelow", 1));

    [Benchmark]
    public void Expander() => Run(expander);

    [Benchmark]
    public void TransientShaper() => Run(transientShaper);

    [Benchmark]
    public void SoftClipperFourfold() => Run(softClipper);

    [Benchmark]
    public void SaturatorFourfold() => Run(saturator);

    [Benchmark]
    public void SaturatorSixteenfold() => Run(saturatorBest);

    [Benchmark]
    public void Width() => Run(width);
}
