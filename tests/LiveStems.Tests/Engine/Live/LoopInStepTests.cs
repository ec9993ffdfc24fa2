using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

/// <summary>A loop that is set around the present place, or taken away, does not move the music.</summary>
public sealed class LoopInStepTests : IDisposable
{
    private const int SampleRate = PlayedSong.SampleRate;

    private readonly PlayedSong played = new();
    private readonly float[] noise = Noise.White(8 * SampleRate, 11, 0.1f);

    public void Dispose() => played.Dispose();

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void TheMusicGoesOnToTheSample(bool isLate)
    {
        Start(isLate);
        played.Player.SetLoop((0.2, 6));
        played.Run(0.6);
        played.Player.SetLoop((0.4, 5));
        played.Run(0.6);
        played.Player.SetLoop(null);
        played.Run(0.6);
        AssertNoiseFrom(0);
    }

    [Fact]
    public void ALoopThatIsTakenAwayIsLeftAtItsEnd()
    {
        Start(isLate: false);
        played.Player.SetLoop((0.2, 1));
        played.Run(0.3);
        played.Player.SetLoop(null);
        played.Run(1.5);
        AssertNoiseFrom(0);
    }

    [Fact]
    public void FromOutsideTheMusicGoesToTheStartOfTheLoop()
    {
        Start(isLate: false);
        played.Player.SetLoop((3, 4));
        Assert.True(played.RunUntil(() => played.Player.Look().PositionSeconds is >= 3 and < 3.3));
    }

    [Fact]
    public void WhatIsShownStaysInTheLoopWhenItComesRound()
    {
        Start(isLate: true);
        played.Player.SetLoop((0.4, 0.6));
        Assert.True(played.RunUntil(() => played.Player.Look().PositionSeconds > 0.55));
        for (int turn = 0; turn < 60; turn++)
        {
            played.Run(0.01);
            Assert.InRange(played.Player.Look().PositionSeconds, 0.4, 0.6);
        }
    }

    private void Start(bool isLate)
    {
        played.Files.AddStem("a", noise, noise, stem => stem with { Chain = TestSong.Chain(isLate ? [TestSong.Slot("limiter")] : []) });
        played.Start();
        played.Forget();
        played.Player.Play();
        played.Run(0.5);
    }

    // Two gains that add up to 1 are so to the rounding of floats.
    private void AssertNoiseFrom(int frame)
    {
        int first = played.Device.Left.FindIndex(sample => sample != 0);
        for (int i = first; i < played.Device.Left.Count; i++)
        {
            Assert.Equal(noise[frame + i - first], played.Device.Left[i], 1e-7f);
        }

        Assert.True(played.Device.Left.Count - first > SampleRate);
        Assert.Equal(0, played.Player.Look().MissedFrames);
    }
}
