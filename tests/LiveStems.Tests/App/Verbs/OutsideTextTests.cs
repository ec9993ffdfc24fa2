using LiveStems.App.Verbs;
using LiveStems.Engine.Planning;
using Xunit;

namespace LiveStems.Tests.App.Verbs;

public sealed class OutsideTextTests
{
    private static readonly OutsideUse Tilt = new("Low Tide", "Bass", "outside-tilt", 1, 512, "did not come to an end");

    [Fact]
    public void TheSongIsNamedWhereThereAreSeveral()
    {
        const string Words = "Bass: outside-tilt: 1 fault, 512 frames without it; it did not come to an end";
        Assert.Equal([Words], OutsideText.Faults([Tilt]));
        Assert.Equal([$"Low Tide, {Words}"], OutsideText.Faults([Tilt, Tilt with { Song = "High Tide", Faults = 0 }]));
        OutsideUse gone = Tilt with { Song = string.Empty, Place = string.Empty };
        const string Of = "outside-tilt: 1 fault, 512 frames without it; it did not come to an end";
        Assert.Equal([Words, Of], OutsideText.Faults([Tilt, gone]));
        Assert.Equal([$"Low Tide, {Words}", $"High Tide, {Words}", Of], OutsideText.Faults([Tilt, Tilt with { Song = "High Tide" }, gone]));
        Assert.Equal("Low Tide", (string)OutsideText.ToJson(Tilt)["song"]!);
    }
}
