namespace LiveStems.View.Pictures;

/// <summary>A picture can't be drawn on this system; the message is one line with the cure.</summary>
/// <param name="message">What is missing and how to mend it.</param>
/// <param name="cause">What the system said.</param>
public sealed class PictureException(string message, Exception cause) : Exception(message, cause);
