namespace LiveStems.Processing.Contract;

/// <summary>The unit a parameter's value is written in.</summary>
public enum ParameterUnit
{
    /// <summary>A bare number, such as a filter's Q.</summary>
    None,

    /// <summary>Decibels, of gain or relative to full scale; written "dB".</summary>
    Decibels,

    /// <summary>Decibels of true peak relative to full scale (ITU-R BS.1770-5 Annex 2); written "dBTP".</summary>
    DecibelsTruePeak,

    /// <summary>Decibels an octave; written "dB/oct".</summary>
    DecibelsPerOctave,

    /// <summary>Hertz; written "Hz" or "kHz".</summary>
    Hertz,

    /// <summary>Milliseconds; written "ms" or "s".</summary>
    Milliseconds,

    /// <summary>Frames at the song's sample rate; written "samples".</summary>
    Samples,

    /// <summary>Per cent; written "%".</summary>
    Percent,

    /// <summary>A ratio to one; written "4:1".</summary>
    Ratio,

    /// <summary>Octaves; written "oct".</summary>
    Octaves,

    /// <summary>0 is off, 1 is on; written "off" and "on".</summary>
    Switch,

    /// <summary>An index into the parameter's choices; written as the choice's name.</summary>
    Choice,
}
