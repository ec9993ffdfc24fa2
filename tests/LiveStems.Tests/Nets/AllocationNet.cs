using LiveStems.Processing.Contract;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>Nothing that the audio thread may call allocates.</summary>
public class AllocationNet
{
    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    [Theory]
    [MemberData(nameof(Ids))]
    public void AudioThreadAllocatesNothing(string id)
    {
        for (int seed = -1; seed < 3; seed++)
        {
            ProcessorUnderTest subject = new(id, seed);
            (float[] left, float[] right) = NetSignals.Make("noise", 4096);
            double[][] values = Values(subject.Processor, seed);
            Drive(subject.Processor, left, right, values);

            long before = GC.GetAllocatedBytesForCurrentThread();
            Drive(subject.Processor, left, right, values);
            Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        }
    }

    private static void Drive(Processor processor, float[] left, float[] right, double[][] values)
    {
        processor.Reset();
        foreach (double[] set in values)
        {
            for (int i = 0; i < set.Length; i++)
            {
                processor.SetParameter(i, set[i]);
            }

            for (int start = 0; start < left.Length; start += 256)
            {
                processor.Process(new StereoBlock(left.AsSpan(start, 256), right.AsSpan(start, 256)));
            }
        }

        processor.Reset();
    }

    private static double[][] Values(Processor processor, int seed)
    {
        Random random = new(seed + 100);
        return [.. Enumerable.Range(0, 3).Select(_ =>
            processor.Description.Parameters.Select(spec => spec.FromTravel(random.NextDouble())).ToArray())];
    }
}
