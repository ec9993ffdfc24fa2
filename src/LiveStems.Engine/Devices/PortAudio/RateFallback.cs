namespace LiveStems.Engine.Devices.PortAudio;

/// <summary>Opens a stream at the rate wanted or, where the device refuses that, at the one it prefers.</summary>
internal static class RateFallback
{
    /// <summary>Tries to open at a rate in hertz; returns an error of the library.</summary>
    internal delegate int Opening(int sampleRate, out nint stream);

    /// <summary>Returns the error that counts, and the stream if there is none.</summary>
    internal static int Open(int wantedRate, int ownRate, Opening open, out nint stream)
    {
        int error = open(wantedRate, out stream);
        return error == PortAudioError.InvalidSampleRate && ownRate != wantedRate ? open(ownRate, out stream) : error;
    }
}
