namespace LiveStems.Analysis.Delivery;

/// <summary>A delivery cannot be made as asked; the message is one line that says why and what would help.</summary>
public sealed class DeliveryException(string message) : Exception(message);
