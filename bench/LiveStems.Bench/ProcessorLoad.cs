using LiveStems.Processing.Contract;

namespace LiveStems.Bench;

/// <summary>One second of stereo programme at 48 kHz for processors to work on.</summary>
internal sealed class ProcessorLoad
{
    public const int SampleRate = 48_000;

    private readonly float[] sourceLeft = ProgrammeSamples.PinkNoise(SampleRate, 1, 1);
    private readonly float[] sourceRight = ProgrammeSamples.PinkNoise(SampleRate, 1, 2);
    private readonly float[] left = new float[SampleRate];
    private readonly float[] right = new float[SampleRate];

    /// <summary>Prepares a processor with settings by parameter id.</summary>
    public static Processor Prepared(Processor processor, params (string Id, double Value)[] settings)
    {
        foreach ((string id, double value) in settings)
        {
            int index = processor.Description.IndexOf(id);
            processor.SetParameter(index >= 0 ? index : throw new ArgumentException($"{processor.Description.Id} has no {id}"), value);
        }

        processor.Prepare(new ProcessingFormat(SampleRate, 8192));
        return processor;
    }

    /// <summary>Processes the second in blocks.</summary>
    public void Run(Processor processor, int block)
    {
        sourceLeft.CopyTo(left, 0);
        sourceRight.CopyTo(right, 0);
        for (int start = 0; start + block <= SampleRate; start += block)
        {
            processor.Process(new StereoBlock(left.AsSpan(start, block), right.AsSpan(start, block)));
        }
    }
}
