namespace LiveStems.App.Terminal;

/// <summary>The command was used in a way that cannot work; the message is one line that says how it can.</summary>
internal sealed class UsageException(string message) : Exception(message);
