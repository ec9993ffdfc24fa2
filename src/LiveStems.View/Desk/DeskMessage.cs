namespace LiveStems.View.Desk;

/// <summary>How much a message matters.</summary>
public enum MessageKind
{
    /// <summary>Good to know.</summary>
    Remark,

    /// <summary>Something could not be done as asked; nothing was changed.</summary>
    Refusal,

    /// <summary>Something went wrong while it ran.</summary>
    Trouble,
}

/// <summary>One line for the person at the desk.</summary>
/// <param name="At">When.</param>
/// <param name="Kind">How much it matters.</param>
/// <param name="Text">The line.</param>
public sealed record DeskMessage(DateTimeOffset At, MessageKind Kind, string Text);
