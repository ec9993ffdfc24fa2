namespace LiveStems.View.Desk;

/// <summary>A processor could not be measured; the message says why in a few words.</summary>
public sealed class ProbeException : Exception
{
    /// <summary>Without a message.</summary>
    public ProbeException()
    {
    }

    /// <summary>With a few words for the user.</summary>
    public ProbeException(string message)
        : base(message)
    {
    }

    /// <summary>With a few words for the user and what lies behind them.</summary>
    public ProbeException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
