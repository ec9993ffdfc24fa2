namespace LiveStems.Engine.Devices;

/// <summary>A sound device cannot be used as asked; the message is one line that says why and what would help.</summary>
public sealed class AudioDeviceException(string message) : Exception(message);
