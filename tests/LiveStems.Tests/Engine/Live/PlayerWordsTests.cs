using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

public sealed class PlayerWordsTests
{
    private static readonly PlayerState Usual = new("Low Tide", true, 1, 2, -14, -15, -1, -2, 0, new AudioStatistics());

    [Fact]
    public void WherePlayingIsAsUsualNothingIsSaid()
    {
        Assert.Empty(PlayerWords.Warnings(Usual));
        Assert.Null(PlayerWords.LeftOut(LoadLevel.Everything, hasCurves: true));
        Assert.Empty(PlayerWords.Listening(MonitorSettings.AtStart));
    }

    [Fact]
    public void EverythingThatSpoilsTheSoundIsSaidTheWorstFirst()
    {
        PlayerState state = Usual with { LoadLevel = LoadLevel.Faded, LateStems = ["Bass", "Drums"], SafetyReductionDb = 0.05, NonFiniteSamples = 3, MissedFrames = 480 };
        Assert.Equal(
            ["OVERLOAD: faded out, tries again", "late from disk: Bass, Drums", "safety limiter −0.1 dB", "3 samples not finite", "480 frames late from disk"],
            PlayerWords.Warnings(state).Select(each => each.Words));
        Assert.Equal(["OVERLOAD", "late: 2", "safety −0.1", "3 not finite", "480 late"], PlayerWords.Warnings(state).Select(each => each.Brief));
    }

    [Theory]
    [InlineData(LoadLevel.WithoutMeters, true, "meters off: overload")]
    [InlineData(LoadLevel.WithoutViews, true, "meters and curves off: overload")]
    [InlineData(LoadLevel.WithoutViews, false, "meters off: overload")]
    [InlineData(LoadLevel.Faded, false, "meters off: overload")]
    public void WhatIsLeftOutUnderLoadIsSaidWhereItWouldBeSeen(LoadLevel level, bool hasCurves, string expected) =>
        Assert.Equal(expected, PlayerWords.LeftOut(level, hasCurves)?.Words);

    [Fact]
    public void WhatIsHeardInPlaceOfBothSidesIsSaid()
    {
        MonitorSettings monitor = new() { Signal = MonitorSignal.PinkNoise, Channels = MonitorChannels.Side, IsSwapped = true };
        Assert.Equal(["pink noise", "side", "swapped"], PlayerWords.Listening(monitor).Select(each => each.Words));
        Assert.Equal(["tone", "mono"], PlayerWords.Listening(new() { Signal = MonitorSignal.Tone, Channels = MonitorChannels.Mono }).Select(each => each.Words));
    }
}
