namespace LiveStems.Albums.Model;

/// <summary>Where a song stands with the client.</summary>
public enum SongState
{
    /// <summary>Being worked on.</summary>
    Open,

    /// <summary>With the client.</summary>
    Sent,

    /// <summary>The client said yes.</summary>
    Approved,

    /// <summary>Another song or another version takes its place.</summary>
    Superseded,
}
