using LiveStems.Processing.Contract;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>State never blows up: one and a half million frames without a reset, settings and sounds changing all the time.</summary>
public class LongRunNet
{
    private const int Rounds = 300;
    private const int Frames = 5003;

    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    [Theory]
    [MemberData(nameof(Ids))]
    public void AMillionFramesOfTortureLeaveAProcessorThatWorks(string id)
    {
        Random random = new(77);
        ProcessorUnderTest subject = new(id, 7);
        IReadOnlyList<ParameterSpec> parameters = subject.Processor.Description.Parameters;
        (float[] Left, float[] Right)[] sounds = [.. NetSignals.Names.Select(name => NetSignals.Make(name, Frames))];
        for (int round = 0; round < Rounds; round++)
        {
            for (int i = 0; i < parameters.Count; i++)
            {
                if (random.Next(4) == 0)
                {
                    subject.Processor.SetParameter(i, parameters[i].FromTravel(random.NextDouble()));
                }
            }

            (float[] left, float[] right) = sounds[random.Next(sounds.Length)];
            (float[] l, float[] r) = subject.Run(left, right, 512);
            Assert.True(l.All(float.IsFinite) && r.All(float.IsFinite), $"{id}, round {round}");
        }

        subject.Processor.Reset();
        (float[] once, _) = subject.Run(sounds[^1].Left, sounds[^1].Right, 512);
        subject.Processor.Reset();
        (float[] again, _) = subject.Run(sounds[^1].Left, sounds[^1].Right, 300);
        SameBits.Assert(once, again, id);
    }
}
