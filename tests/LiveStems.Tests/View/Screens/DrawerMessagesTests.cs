using LiveStems.View.Controls;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class DrawerMessagesTests : DrawerTest
{
    [Fact]
    public void WhatWasSaidIsListedWithItsTimeTheLatestFirst()
    {
        Desk.Say(MessageKind.Remark, "the tide has turned");
        Desk.Say(MessageKind.Refusal, "there is no such stem");
        Type("F9");
        Assert.Equal("messages", Drawer.Page.Id);
        Assert.Equal(["there is no such stem", "the tide has turned"], Drawer.List.Lines.Take(2).Select(line => line.Words));
        Assert.Equal([Tone.Alarm, Tone.Text], Drawer.List.Lines.Take(2).Select(line => line.Tone));
        Assert.All(Drawer.List.Lines, line => Assert.Matches(@"^\d\d:\d\d:\d\d$", line.Aside));
        Desk.Say(MessageKind.Trouble, "a stem is late");
        Frame();
        Assert.Equal("a stem is late", Drawer.List.Lines[0].Words);
    }

    [Theory]
    [InlineData("messages")]
    [InlineData("what was said")]
    [InlineData("log")]
    public void ItIsFoundByWords(string typed) => Assert.Contains(Desk.Commands.Search(typed), command => command.Id == "drawer-messages");

    [Theory]
    [InlineData("call off", "call-off")]
    [InlineData("LUFS", "meters-relative")]
    [InlineData("+18", "meters-scale")]
    [InlineData("hold the loudness", "meters-pause")]
    public void WhatOnlyThePointerCouldDoIsFoundByWords(string typed, string id) =>
        Assert.Contains(Desk.Commands.Search(typed), command => command.Id == id);

    [Fact]
    public void WhatIsHeardIsChosenOnThePageOfTheEars()
    {
        Type("9");
        Press("mono");
        Assert.Equal(LiveStems.Engine.Monitor.MonitorChannels.Mono, Desk.Monitor.Settings.Channels);
        Press("side");
        Assert.Equal(LiveStems.Engine.Monitor.MonitorChannels.Side, Desk.Monitor.Settings.Channels);
        Press("side");
        Press("swap");
        Press("tone");
        Assert.Equal(
            (LiveStems.Engine.Monitor.MonitorChannels.Stereo, true, LiveStems.Engine.Monitor.MonitorSignal.Tone),
            (Desk.Monitor.Settings.Channels, Desk.Monitor.Settings.IsSwapped, Desk.Monitor.Settings.Signal));
        Assert.Equal(["tone", "swap"], Drawer.Page.Buttons.Where(button => button.IsOn?.Invoke() == true).Select(button => button.Words()).Where(words => words != "dim"));
    }
}
