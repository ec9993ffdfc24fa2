namespace LiveStems.Engine.Live;

/// <summary>What is still done when rendering takes too much of its time; each level does less than the one before.</summary>
public enum LoadLevel
{
    /// <summary>Everything.</summary>
    Everything,

    /// <summary>No loudness and peaks.</summary>
    WithoutMeters,

    /// <summary>No sound for views such as spectra either.</summary>
    WithoutViews,

    /// <summary>The music has been faded out; after a pause it is tried again.</summary>
    Faded,
}
