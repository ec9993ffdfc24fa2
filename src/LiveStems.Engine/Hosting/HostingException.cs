namespace LiveStems.Engine.Hosting;

/// <summary>Something about processors of others cannot be done; the message is one line that says what and how to mend it.</summary>
public sealed class HostingException : Exception
{
    /// <summary>Without a message.</summary>
    public HostingException()
    {
    }

    /// <summary>With one line for the user.</summary>
    public HostingException(string message)
        : base(message)
    {
    }

    /// <summary>With one line for the user and what lies behind it.</summary>
    public HostingException(string message, Exception inner)
        : base(message, inner)
    {
    }
}
