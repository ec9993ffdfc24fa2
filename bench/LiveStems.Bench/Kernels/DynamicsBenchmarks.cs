using BenchmarkDotNet.Attributes;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Compressor;
using LiveStems.Processing.Processors.Limiter;

namespace LiveStems.Bench.Kernels;

/// <summary>Dynamic processors on one second of stereo programme at 48 kHz, in live and in offline blocks.</summary>
[MemoryDiagnoser]
public class DynamicsBenchmarks
{
    private const int SampleRate = 48_000;

    private readonly float[] sourceLeft = ProgrammeSamples.PinkNoise(SampleRate, 1, 1);
    private readonly float[] sourceRight = ProgrammeSamples.PinkNoise(SampleRate, 1, 2);
    private readonly float[] left = new float[SampleRate];
    private readonly float[] right = new float[SampleRate];
    private readonly Processor compressor = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4));
    private readonly Processor unlinked = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4), ("linkPercent", 50));
    private readonly Processor averaging = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4), ("detector", 1), ("keyHighPass", 1));
    private readonly Processor feedBack = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4), ("topology", 1));
    private readonly Processor makingUp = Prepared(new CompressorProcessor(), ("thresholdDb", -30), ("ratio", 4), ("autoMakeUp", 1));
    private readonly Processor limiter = Prepared(new LimiterProcessor(), ("inputGainDb", 6));

    /// <summary>Frames a call.</summary>
    [Params(64, 512)]
    public int Block { get; set; }

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
