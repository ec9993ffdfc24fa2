using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>A processor from the catalogue with settings and a course of parameter moves that are the same in every run.</summary>
internal sealed class ProcessorUnderTest
{
    public const int SampleRate = 48_000;

    private readonly List<(int Frame, int Parameter, double Value)> moves = [];

    /// <summary>Prepares a processor; a seed below 0 leaves its settings alone.</summary>
    public ProcessorUnderTest(string id, int seed, int maximumFrames = 8192)
    {
        Processor = BuiltInProcessors.Catalogue.Create(id)!;
        if (seed >= 0)
        {
            Random random = new(seed);
            for (int i = 0; i < Processor.Description.Parameters.Count; i++)
            {
                if (random.Next(2) == 0)
                {
                    Processor.SetParameter(i, RandomValue(i, random));
                }
            }
        }

        Processor.Prepare(new ProcessingFormat(SampleRate, maximumFrames));
    }

    public Processor Processor { get; }

    /// <summary>Every id of the catalogue, for theories.</summary>
    public static TheoryData<string> Ids() => [.. BuiltInProcessors.Catalogue.Descriptions.Select(description => description.Id)];

    /// <summary>Plans moves of a share of the parameters at fixed frames, on and off the control grid.</summary>
    public ProcessorUnderTest WithMoves(int seed, params int[] frames)
    {
        Random random = new(seed);
        foreach (int frame in frames)
        {
            for (int i = 0; i < Processor.Description.Parameters.Count; i++)
            {
                if (random.Next(3) == 0)
                {
                    moves.Add((frame, i, RandomValue(i, random)));
                }
            }
        }

        return this;
    }

    /// <summary>Processes copies of a stereo signal in blocks, with the planned moves, and returns both channels.</summary>
    public (float[] Left, float[] Right) Run(float[] left, float[] right, int block)
    {
        (float[] l, float[] r) = ([.. left], [.. right]);
        int done = 0;
        while (done < l.Length)
        {
            int next = l.Length;
            MoveAt(done);
            foreach ((int frame, _, _) in moves)
            {
                next = frame > done ? Math.Min(next, frame) : next;
            }

            int count = Math.Min(block, next - done);
            Processor.Process(new StereoBlock(l.AsSpan(done, count), r.AsSpan(done, count)));
            done += count;
        }

        return (l, r);
    }

    /// <summary>Makes the moves that are planned for a frame.</summary>
    public void MoveAt(int done)
    {
        foreach ((int frame, int parameter, double value) in moves)
        {
            if (frame == done)
            {
                Processor.SetParameter(parameter, value);
            }
        }
    }

    private double RandomValue(int parameter, Random random) =>
        Processor.Description.Parameters[parameter].FromTravel(random.NextDouble());
}
