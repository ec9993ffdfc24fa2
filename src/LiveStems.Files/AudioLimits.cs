namespace LiveStems.Files;

/// <summary>What this program takes as sound.</summary>
internal static class AudioLimits
{
    internal const int LowestSampleRate = 8_000;
    internal const int HighestSampleRate = 384_000;

    /// <summary>The fault of a number of channels, or null when it can be used.</summary>
    internal static string? FaultOfChannels(int channels) => channels switch
    {
        1 or 2 => null,
        0 => "says it has no channels; export it again",
        _ => $"has {channels} channels; a stem has 1 or 2: split it or mix it down",
    };

    /// <summary>The fault of a sample rate, or null when it can be used.</summary>
    internal static string? FaultOfSampleRate(double sampleRate) => sampleRate switch
    {
        >= LowestSampleRate and <= HighestSampleRate when sampleRate == Math.Floor(sampleRate) => null,
        >= LowestSampleRate and <= HighestSampleRate =>
            $"has a sample rate of {sampleRate:0.###} Hz; only whole numbers are taken: resample it",
        _ => $"has a sample rate of {sampleRate:G6} Hz; 8 000 to 384 000 Hz are taken: export it again, or resample it",
    };
}
