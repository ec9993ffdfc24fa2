using LiveStems.Processing.Contract;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>A parameter that is moved while sound runs ends up meaning what it means when set beforehand.</summary>
public class ArrivalNet
{
    private const int Block = 480;

    // Twenty seconds settle every state that forgets at all; what is left is rounding, and detectors that converge on one
    // value from two sides: −80 dB of the sound.
    private const int SettlingFrames = 20 * ProcessorUnderTest.SampleRate;
    private const float Tolerance = 1e-4f;

    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    [Theory]
    [MemberData(nameof(Ids))]
    public void MovedParametersArrive(string id)
    {
        for (int seed = 0; seed < 4; seed++)
        {
            ProcessorUnderTest moved = new(id, -1);
            ProcessorUnderTest set = new(id, -1);
            Random random = new(seed);
            double[] values = [.. moved.Processor.Description.Parameters.Select(spec => spec.IsStructural ? spec.Default : spec.FromTravel(random.NextDouble()))];
            Set(set.Processor, values);
            set.Processor.Reset();

            (float[] left, float[] right) = NetSignals.Make("noise", Block);
            moved.Run(left, right, 100);
            set.Run(left, right, 100);
            Set(moved.Processor, values);
            for (int done = 0; done < SettlingFrames; done += Block)
            {
                moved.Run(left, right, Block);
                set.Run(left, right, Block);
            }

            (float[] movedLeft, float[] movedRight) = moved.Run(left, right, Block);
            (float[] setLeft, float[] setRight) = set.Run(left, right, Block);
            Near(setLeft, movedLeft, $"{id}, seed {seed}, left");
            Near(setRight, movedRight, $"{id}, seed {seed}, right");
        }
    }

    private static void Set(Processor processor, double[] values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            processor.SetParameter(i, values[i]);
        }
    }

    private static void Near(float[] expected, float[] actual, string what)
    {
        float scale = Math.Max(0.5f, expected.Max(Math.Abs));
        for (int n = 0; n < expected.Length; n++)
        {
            Assert.True(Math.Abs(expected[n] - actual[n]) <= Tolerance * scale, $"{what}: frame {n} is {actual[n]}, not {expected[n]}");
        }
    }
}
