namespace LiveStems.Analysis.Intake;

/// <summary>What the intake check can find.</summary>
public enum FindingKind
{
    /// <summary>A file is missing or cannot be read.</summary>
    Unreadable,

    /// <summary>Sample rate other than that of the song.</summary>
    SampleRate,

    /// <summary>Sample format other than that of most stems, or a lossy one.</summary>
    Format,

    /// <summary>Length other than that of the rest.</summary>
    Length,

    /// <summary>Fewer significant bits than the file has room for.</summary>
    BitDepth,

    /// <summary>Nothing but digital silence.</summary>
    Silence,

    /// <summary>Sound that is cut off at the start or the end of the file.</summary>
    CutOff,

    /// <summary>Runs of exact zeros inside sound.</summary>
    Dropouts,

    /// <summary>Single samples or edges that do not belong to the sound.</summary>
    Clicks,

    /// <summary>Three or more equal samples at full scale.</summary>
    Clipping,

    /// <summary>Peaks between samples above full scale.</summary>
    InterSampleOvers,

    /// <summary>Peaks that were held down before: a limiter or a clipper.</summary>
    Limited,

    /// <summary>A constant offset.</summary>
    DcOffset,

    /// <summary>Both sides hold the same.</summary>
    MonoInStereo,

    /// <summary>One side is silent or weaker.</summary>
    SideImbalance,

    /// <summary>Both sides work against each other.</summary>
    Correlation,

    /// <summary>A raised noise floor.</summary>
    NoiseFloor,

    /// <summary>A stem, or one side of it, upside down.</summary>
    Polarity,

    /// <summary>A stem that is early or late.</summary>
    Delay,

    /// <summary>A stem louder or softer than in the rough mix.</summary>
    Gain,

    /// <summary>A stem that is not in the rough mix.</summary>
    ExtraStem,

    /// <summary>Something in the rough mix that is in no stem.</summary>
    MissingStem,

    /// <summary>Two stems that hold the same sound.</summary>
    Duplicate,

    /// <summary>How the sum of the stems compares with the rough mix.</summary>
    Sum,

    /// <summary>Too short to be judged in some respect.</summary>
    TooShort,
}
