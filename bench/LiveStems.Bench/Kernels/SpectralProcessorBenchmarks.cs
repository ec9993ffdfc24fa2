using BenchmarkDotNet.Attributes;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.DeEsser;
using LiveStems.Processing.Processors.ResonanceSuppressor;
using LiveStems.Processing.Processors.Room;

namespace LiveStems.Bench.Kernels;

/// <summary>Resonance suppressor, de-esser and room on one second of stereo programme at 48 kHz, in live and in offline blocks.</summary>
[MemoryDiagnoser]
public class SpectralProcessorBenchmarks
{
    private const int SampleRate = 48_000;

    private readonly float[] sourceLeft = ProgrammeSamples.PinkNoise(SampleRate, 1, 1);
    private readonly float[] sourceRight = ProgrammeSamples.PinkNoise(SampleRate, 1, 2);
    private readonly float[] left = new float[SampleRate];
    private readonly float[] right = new float[SampleRate];
    private readonly Processor resonanceSuppressor = Prepared(new ResonanceSuppressorProcessor());
    private readonly Processor deEsser = Prepared(new DeEsserProcessor());
    private readonly Processor room = Prepared(new RoomProcessor());

    /// <summary>Frames a call.</summary>
    [Params(64, 512)]
    public int Block { get; set; }

    [Benchmark]
    public void ResonanceSuppressor() => Run(resonanceSuppressor);

    [Benchmark]
    public void DeEsser() => Run(deEsser);

    [Benchmark]
    public void Room() => Run(room);

    private static Processor Prepared(Processor processor)
    {
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
