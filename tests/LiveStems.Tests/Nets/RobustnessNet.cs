using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>No setting and no sound breaks a processor.</summary>
public class RobustnessNet
{
    private const int Frames = 20_000;

    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    [Theory]
    [MemberData(nameof(Ids))]
    public void OutputStaysFiniteForAllSettingsAndSounds(string id)
    {
        for (int seed = 0; seed < 12; seed++)
        {
            foreach (string name in NetSignals.Names)
            {
                (float[] left, float[] right) = NetSignals.Make(name, Frames);
                (float[] l, float[] r) = new ProcessorUnderTest(id, seed).WithMoves(seed, 3000, 6001).Run(left, right, 512);
                Assert.True(l.All(float.IsFinite) && r.All(float.IsFinite), $"{id}, seed {seed}, {name}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void TailsNeverRunOnSubnormals(string id)
    {
        for (int seed = -1; seed < 6; seed++)
        {
            ProcessorUnderTest subject = new(id, seed);
            (float[] left, float[] right) = NetSignals.Make("noise", 4096);
            subject.Run(left, right, 512);
            float[] silence = new float[4096];
            for (int second = 0; second < 120; second++)
            {
                (float[] l, float[] r) = subject.Run(silence, silence, 512);
                Assert.True(!l.Any(float.IsSubnormal) && !r.Any(float.IsSubnormal), $"{id}, seed {seed}, block {second}");
            }
        }
    }

    [Theory]
    [InlineData(float.NaN)]
    [InlineData(float.PositiveInfinity)]
    [InlineData(float.MinValue)]
    public void BadInputIsForgottenAtReset(float bad)
    {
        foreach (string id in Ids().Select(row => row.Data))
        {
            for (int seed = -1; seed < 3; seed++)
            {
                (float[] left, float[] right) = NetSignals.Make("noise", 4000);
                (float[] expectedLeft, float[] expectedRight) = new ProcessorUnderTest(id, seed).Run(left, right, 512);
                ProcessorUnderTest subject = new(id, seed);
                float[] poison = [.. left];
                Array.Fill(poison, bad, 700, 5);
                subject.Run(poison, poison, 512);
                subject.Processor.Reset();
                (float[] l, float[] r) = subject.Run(left, right, 512);
                SameBits.Assert(expectedLeft, l, $"{id}, seed {seed}, left");
                SameBits.Assert(expectedRight, r, $"{id}, seed {seed}, right");
            }
        }
    }
}
