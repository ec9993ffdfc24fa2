namespace LiveStems.Engine.Monitor;

/// <summary>What is heard of the two sides.</summary>
public enum MonitorChannels
{
    /// <summary>Left and right.</summary>
    Stereo,

    /// <summary>(L+R)/2 on both sides.</summary>
    Mono,

    /// <summary>(L−R)/2 on both sides.</summary>
    Side,
}

/// <summary>What is sent instead of the music, to set the listening level by.</summary>
public enum MonitorSignal
{
    /// <summary>The music.</summary>
    Music,

    /// <summary>A sine of 1 kHz at −20 dBFS peak.</summary>
    Tone,

    /// <summary>Pink noise at −20 dBFS RMS (common practice), the same on both sides.</summary>
    PinkNoise,
}

/// <summary>Settings of the monitor; what the ears get, never part of a render.</summary>
public sealed record MonitorSettings
{
    /// <summary>Lowest and highest of <see cref="SafetyCeilingDbfs"/>.</summary>
    public const double LowestSafetyCeilingDbfs = -30, HighestSafetyCeilingDbfs = -1;

    /// <summary>Lowest and highest of <see cref="LevelDb"/>.</summary>
    public const double LowestLevelDb = -60, HighestLevelDb = 0;

    /// <summary>Lowest and highest of <see cref="BandCentreHz"/>.</summary>
    public const double LowestBandHz = 20, HighestBandHz = 20_000;

    /// <summary>Lowest and highest of <see cref="BandWidthOctaves"/>.</summary>
    public const double NarrowestBandOctaves = 1.0 / 12, WidestBandOctaves = 4;

    /// <summary>As the program starts: dimmed.</summary>
    public static MonitorSettings AtStart { get; } = new();

    /// <summary>Level in decibels, −60 to 0.</summary>
    public double LevelDb { get; init; }

    /// <summary>True to turn everything down by <see cref="DimDb"/>.</summary>
    public bool IsDimmed { get; init; } = true;

    /// <summary>How far dimming turns down, in decibels, −40 to −6.</summary>
    public double DimDb { get; init; } = -20;

    /// <summary>What is heard of the two sides.</summary>
    public MonitorChannels Channels { get; init; } = MonitorChannels.Stereo;

    /// <summary>True to exchange left and right.</summary>
    public bool IsSwapped { get; init; }

    /// <summary>Gain that makes both sides of a comparison equally loud, in decibels.</summary>
    public double FairGainDb { get; init; }

    /// <summary>True to hear one band only.</summary>
    public bool BandListen { get; init; }

    /// <summary>Centre of the band in Hz, 20 to 20 000.</summary>
    public double BandCentreHz { get; init; } = 3000;

    /// <summary>Width of the band in octaves, 1/12 to 4.</summary>
    public double BandWidthOctaves { get; init; } = 1;

    /// <summary>Steepness of the band's edges in dB/oct: 24 or 48.</summary>
    public int BandSlopeDbPerOctave { get; init; } = 48;

    /// <summary>Level that the safety limiter holds in dBFS, −30 to −1.</summary>
    public double SafetyCeilingDbfs { get; init; } = -6;

    /// <summary>A signal instead of the music.</summary>
    public MonitorSignal Signal { get; init; } = MonitorSignal.Music;
}
