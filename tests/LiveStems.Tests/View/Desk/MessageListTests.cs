using LiveStems.Tests.Engine.Live;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public class MessageListTests
{
    [Fact]
    public void ARefusalIsSaidOnceForOneActAndAgainForTheNext()
    {
        HandClock clock = new();
        MessageList messages = new(clock);
        messages.Refuse(null);
        messages.Refuse(string.Empty);
        Assert.Empty(messages.All);

        // What was asked for has said it itself.
        messages.Say(MessageKind.Refusal, "choose a stem first");
        messages.Refuse("choose a stem first");
        Assert.Single(messages.All);
        clock.Pass(20);
        messages.Refuse("choose a stem first");
        Assert.Equal(2, messages.All.Count);
        messages.Refuse("nothing is at work");
        Assert.Equal(["choose a stem first", "choose a stem first", "nothing is at work"], messages.All.Select(each => each.Text));
    }

    [Fact]
    public void TheOldestAreForgotten()
    {
        MessageList messages = new(new HandClock());
        for (int i = 0; i < 250; i++)
        {
            messages.Say(MessageKind.Remark, $"{i}");
        }

        Assert.Equal(("50", "249", 200), (messages.All[0].Text, messages.All[^1].Text, messages.All.Count));
    }
}
