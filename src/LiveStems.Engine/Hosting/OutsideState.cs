namespace LiveStems.Engine.Hosting;

/// <summary>How an outside assembly stands.</summary>
public enum OutsideState
{
    /// <summary>Never decided: it is not loaded.</summary>
    New,

    /// <summary>A file of that name was trusted with another content: it is not loaded until the user says yes again.</summary>
    Changed,

    /// <summary>The user said no.</summary>
    Refused,

    /// <summary>Trusted and loaded.</summary>
    Loaded,

    /// <summary>It cannot be loaded, trusted or not.</summary>
    Unusable,
}
