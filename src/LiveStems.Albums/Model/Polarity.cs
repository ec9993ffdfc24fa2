namespace LiveStems.Albums.Model;

/// <summary>Which sides of a stem are turned over.</summary>
public enum Polarity
{
    /// <summary>Neither.</summary>
    Normal,

    /// <summary>Both sides.</summary>
    Inverted,

    /// <summary>The left side.</summary>
    LeftInverted,

    /// <summary>The right side.</summary>
    RightInverted,
}
