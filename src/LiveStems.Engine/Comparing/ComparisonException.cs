namespace LiveStems.Engine.Comparing;

/// <summary>There is nothing to compare as asked; the message is one line that says why and what would help.</summary>
public sealed class ComparisonException(string message) : Exception(message);
