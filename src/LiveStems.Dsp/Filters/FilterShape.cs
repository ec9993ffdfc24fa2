namespace LiveStems.Dsp.Filters;

/// <summary>The shapes of an equaliser band.</summary>
public enum FilterShape
{
    /// <summary>Raises or lowers the sound around one frequency.</summary>
    Bell,

    /// <summary>Raises or lowers everything below a frequency, where it has half its gain in decibels.</summary>
    LowShelf,

    /// <summary>Raises or lowers everything above a frequency, where it has half its gain in decibels.</summary>
    HighShelf,

    /// <summary>Takes away what lies above a frequency.</summary>
    LowPass,

    /// <summary>Takes away what lies below a frequency.</summary>
    HighPass,

    /// <summary>Takes away one frequency altogether.</summary>
    Notch,

    /// <summary>Raises the top by half the gain and lowers the bottom by as much, or the other way round.</summary>
    Tilt,
}
