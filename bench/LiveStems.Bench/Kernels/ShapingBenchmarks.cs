using BenchmarkDotNet.Attributes;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Expander;
using LiveStems.Processing.Processors.Saturator;
using LiveStems.Processing.Processors.SoftClipper;
using LiveStems.Processing.Processors.TransientShaper;
using LiveStems.Processing.Processors.Width;

namespace LiveStems.Bench.Kernels;

/// <summary>Gates, shapers, curves and width on one second of stereo programme at 48 kHz, in live and in offline blocks.</summary>
[MemoryDiagnoser]
public class ShapingBenchmarks
{
    private const int SampleRate = 48_000;
    private const int Sixteenfold = 3;

    private readonly float[] sourceLeft = ProgrammeSamples.PinkNoise(SampleRate, 1, 1);
    private readonly float[] sourceRight = ProgrammeSamples.PinkNoise(SampleRate, 1, 2);
    private readonly float[] left = new float[SampleRate];
    private readonly float[] right = new float[SampleRate];
    private readonly Processor expander = Prepared(new ExpanderProcessor(), ("keyHighPass", 1), ("keyLowPass", 1));
    private readonly Processor transientShaper = Prepared(new TransientShaperProcessor(), ("sustainDb", 3));
    private readonly Processor softClipper = Prepared(new SoftClipperProcessor(), ("inputGainDb", 6));
    private readonly Processor saturator = Prepared(new SaturatorProcessor(), ("driveDb", 12));
    private readonly Processor saturatorBest = Prepared(new SaturatorProcessor(), ("driveDb", 12), ("oversampling", Sixteenfold));
    private readonly Processor width = Prepared(new WidthProcessor(), ("monoBelow", 1));

    /// <summary>Frames a call.</summary>
    [Params(64, 512)]
    public int Block { get; set; }

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

    private static Processor Prepared(Processor processor, params (string Id, double Value)[] settings)
    {
        foreach ((string id, double value) in settings)
        {
            processor.SetParameter(processor.Description.IndexOf(id), value);
        }

        processor.Prepare(new ProcessingFormat(SampleRate, 8192));
        return processor;
    }

    private void Run(Processor processor)
    {
        sourceLeft.CopyTo(left, 0);
        sourceRight.CopyTo(right, 0);
        for (int start = 0; start + Block <= SampleRate; start += Block)
        {
            processor.Process(new StereoBlock(left.AsSpan(start, Block), right.AsSpan(start, Block)));
        }
    }
}
