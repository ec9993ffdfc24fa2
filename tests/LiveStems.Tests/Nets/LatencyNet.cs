using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>What a processor says about its latency is what a small signal shows.</summary>
public class LatencyNet
{
    private const int Compared = 6000;

    public static TheoryData<string, int> Cases()
    {
        TheoryData<string, int> cases = [];
        foreach (string id in ProcessorUnderTest.Ids().Select(row => row.Data))
        {
            foreach (int rate in new[] { 44_100, 48_000, 96_000, 192_000 })
            {
                cases.Add(id, rate);
            }
        }

        return cases;
    }

    // Sound so small that dynamic processors leave it alone, at default settings and with each structural parameter at
    // either end by itself: the cross-correlation of input and output peaks at the declared latency.
    [Theory]
    [MemberData(nameof(Cases))]
    public void DeclaredLatencyIsTheMeasuredOne(string id, int sampleRate)
    {
        Check(id, sampleRate, _ => { });
        IReadOnlyList<ParameterSpec> parameters = BuiltInProcessors.Catalogue.Find(id)!.Parameters;
        for (int i = 0; i < parameters.Count; i++)
        {
            if (parameters[i].IsStructural)
            {
                int index = i;
                Check(id, sampleRate, processor => processor.SetParameter(index, parameters[index].Minimum));
                Check(id, sampleRate, processor => processor.SetParameter(index, parameters[index].Maximum));
            }
        }
    }

    private static void Check(string id, int sampleRate, Action<Processor> set)
    {
        Processor processor = BuiltInProcessors.Catalogue.Create(id)!;
        set(processor);
        processor.Prepare(new ProcessingFormat(sampleRate, 8192));
        float[] input = Noise.White(processor.LatencyFrames + 600 + Compared, 31, 1e-3f);
        (float[] left, float[] right) = ([.. input], [.. input]);
        ActingSettings.Run(processor, left, right);

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
            for (int n = guess + 600; n < guess + 600 + Compared; n++)
            {
                sum += (double)output[n] * input[n - candidate];
            }

            (best, lag) = sum > best ? (sum, candidate) : (best, lag);
        }

        return lag;
    }
}
