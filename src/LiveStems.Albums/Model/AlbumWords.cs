namespace LiveStems.Albums.Model;

/// <summary>The words of the album's enumerations.</summary>
public static class AlbumWords
{
    /// <summary>"drums", "lead-vocal", …</summary>
    public static WordTable<StemRole> Role { get; } = new();

    /// <summary>"normal", "inverted", "left-inverted", "right-inverted".</summary>
    public static WordTable<Polarity> Polarity { get; } = new();

    /// <summary>"stereo", "mid", "side".</summary>
    public static WordTable<StereoScope> Scope { get; } = new();

    /// <summary>"smooth", "linear", "equal-power", "decibels".</summary>
    public static WordTable<FadeShape> Fade { get; } = new();

    /// <summary>"open", "sent", "approved", "superseded".</summary>
    public static WordTable<SongState> State { get; } = new();
}
