namespace LiveStems.Engine.Devices.PortAudio;

/// <summary>Which rates a device accepts, asked one by one.</summary>
internal static class RateQuestions
{
    /// <summary>The rates of music that a device may accept, in hertz.</summary>
    internal static IReadOnlyList<int> Usual { get; } = [44_100, 48_000, 88_200, 96_000, 176_400, 192_000];

    /// <summary>Those of <see cref="Usual"/> that are accepted; null when the device is gone or in use, so that nothing can be said.</summary>
    /// <param name="ask">Returns an error of the library for a rate in hertz, or none.</param>
    internal static IReadOnlyList<int>? Accepted(Func<int, int> ask)
    {
        List<int> accepted = [];
        foreach (int rate in Usual)
        {
            int error = ask(rate);
            if (error is PortAudioError.DeviceUnavailable or PortAudioError.InvalidDevice)
            {
                return null;
            }

            if (error == PortAudioError.None)
            {
                accepted.Add(rate);
            }
        }

        return accepted;
    }
}
