using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>Left and right are treated alike: exchanged at the input, they come out exchanged.</summary>
public class StereoNet
{
    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    [Theory]
    [MemberData(nameof(Ids))]
    public void ExchangedInputGivesExchangedOutput(string id)
    {
        (float[] left, float[] right) = NetSignals.Make("bursts", 12_000);
        for (int seed = -1; seed < 4; seed++)
        {
            (float[] l, float[] r) = Subject(id, seed).Run(left, right, 512);
            (float[] exchangedR, float[] exchangedL) = Subject(id, seed).Run(right, left, 512);
            SameBits.Assert(l, exchangedL, $"{id}, seed {seed}, left");
            SameBits.Assert(r, exchangedR, $"{id}, seed {seed}, right");
        }
    }

    // Parameters that name a side make the sides differ on purpose; they stay at their defaults. So does a spread, which makes
    // two different sides out of one; it is off.
    private static ProcessorUnderTest Subject(string id, int seed)
    {
        ProcessorUnderTest subject = new(id, seed);
        for (int i = 0; i < subject.Processor.Description.Parameters.Count; i++)
        {
            var spec = subject.Processor.Description.Parameters[i];
            if (spec.Id.Contains("left", StringComparison.OrdinalIgnoreCase) || spec.Id.Contains("right", StringComparison.OrdinalIgnoreCase))
            {
                subject.Processor.SetParameter(i, spec.Default);
            }
            else if (spec.Id == "spreadPercent")
            {
                subject.Processor.SetParameter(i, 0);
            }
        }

        subject.Processor.Reset();
        return subject;
    }
}
