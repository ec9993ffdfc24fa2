using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Tests.Dsp.Loudness;

public class StepClockTests
{
    [Theory]
    [InlineData(8_000)]
    [InlineData(11_025)]
    [InlineData(22_050)]
    [InlineData(44_100)]
    [InlineData(47_999)]
    [InlineData(384_000)]
    public void StepsBeginAtTheNearestFrameAndNeverDrift(int sampleRate)
    {
        StepClock clock = new(sampleRate);
        long frame = 0;
        for (int step = 1; step <= 1_234; step++)
        {
            int frames = clock.FramesLeft;
            frame += frames;
            Assert.True(clock.Advance(frames));
            Assert.InRange(frame - step * sampleRate / 100.0, -0.5, 0.5);
        }

        Assert.InRange(clock.FramesInLast(40) - 0.4 * sampleRate, -1, 1);
        Assert.Equal(3 * sampleRate, clock.FramesInLast(300));
    }

    [Fact]
    public void AStepIsCompleteOnlyWithItsLastFrame()
    {
        StepClock clock = new(48_000);
        Assert.False(clock.Advance(479));
        Assert.Equal(1, clock.FramesLeft);
        Assert.True(clock.Advance(1));
        Assert.Equal(480, clock.FramesLeft);
        clock.Advance(10);
        clock.Reset();
        Assert.Equal(480, clock.FramesLeft);
    }
}
