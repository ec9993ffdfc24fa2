namespace LiveStems.View.Desk;

/// <summary>What was said to the person at the desk, the latest last; the oldest are forgotten.</summary>
internal sealed class MessageList
{
    private const int Remembered = 200;

    private readonly List<DeskMessage> messages = [];

    public IReadOnlyList<DeskMessage> All => messages;

    public void Say(MessageKind kind, string text)
    {
        messages.Add(new DeskMessage(DateTimeOffset.Now, kind, text));
        if (messages.Count > Remembered)
        {
            messages.RemoveAt(0);
        }
    }
}
