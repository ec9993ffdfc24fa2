namespace LiveStems.View.Desk;

/// <summary>What was said to the person at the desk, the latest last; the oldest are forgotten.</summary>
internal sealed class MessageList(TimeProvider clock)
{
    private const int Remembered = 200;

    // A refusal that the desk has said itself comes back from what was asked for within the same moment.
    private static readonly TimeSpan Moment = TimeSpan.FromSeconds(0.5);

    private readonly List<DeskMessage> messages = [];
    private long lastSaid;

    public IReadOnlyList<DeskMessage> All => messages;

    public void Say(MessageKind kind, string text)
    {
        lastSaid = clock.GetTimestamp();
        messages.Add(new DeskMessage(DateTimeOffset.Now, kind, text));
        if (messages.Count > Remembered)
        {
            messages.RemoveAt(0);
        }
    }

    /// <summary>Says what was refused, unless it was said this very moment; nothing for no line.</summary>
    public void Refuse(string? line)
    {
        bool isJustSaid = messages.Count > 0 && messages[^1].Text == line && clock.GetElapsedTime(lastSaid) < Moment;
        if (!string.IsNullOrEmpty(line) && !isJustSaid)
        {
            Say(MessageKind.Refusal, line);
        }
    }
}
