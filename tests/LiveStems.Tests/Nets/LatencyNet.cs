using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>What a processor says about its latency is what a small signal shows.</summary>
public class LatencyNet
{
    private const int Frames = 48_000;

    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    // Sound so small that dynamic processors leave it alone, at default settings and with each structural parameter at
    // either end by itself: the cross-correlation of input and output peaks at the declared latency.
    [Theory]
    [MemberData(nameof(Ids))]
    public void DeclaredLatencyIsTheMeasuredOne(string id)
    {
        Check(id, _ => { });
        IReadOnlyList<ParameterSpec> parameters = BuiltInProcessors.Catalogue.Find(id)!.Parameters;
        for (int i = 0; i < parameters.Count; i++)
        {
            if (parameters[i].IsStructural)
            {
                int index = i;
                Check(id, processor => processor.SetParameter(index, parameters[index].Minimum));
                Check(id, processor => processor.SetParameter(index, parameters[index].Maximum));
            }
        }
    }

    private static void Check(string id, Action<Processor> set)
    {
        Processor processor = BuiltInProcessors.Catalogue.Create(id)!;
        set(processor);
        processor.Prepare(new ProcessingFormat(48_000, 8192));
        float[] input = Noise.White(Frames, 31, 1e-3f);
        (float[] left, float[] right) = ([.. input], [.. input]);
        for (int start = 0; start < Frames; start += 8000)
        {
            processor.Process(new StereoBlock(left.AsSpan(start, 8000), right.AsSpan(start, 8000)));
        }

        Assert.Equal(processor.LatencyFrames, Lag(input, left, processor.LatencyFrames));
    }

    // The lag near a guess, to 300 frames either side, at which two sounds are most alike.
    private static int Lag(float[] input, float[] output, int guess)
    {
        double best = double.NegativeInfinity;
        int lag = -1;
        for (int candidate = Math.Max(0, guess - 300); candidate <= guess + 300; candidate++)
        {
            double sum = 0;
            for (int n = guess + 600; n < Frames; n++)
            {
                sum += (double)output[n] * input[n - candidate];
            }

            (best, lag) = sum > best ? (sum, candidate) : (best, lag);
        }

        return lag;
    }
}
