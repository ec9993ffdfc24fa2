namespace LiveStems.Albums.Model;

/// <summary>
/// How a song begins, ends and joins the next on the album as it is listened to. Nothing of it touches stems or treated
/// stems. Times are in seconds.
/// </summary>
/// <param name="GapBeforeSeconds">Silence before the song, 0 to 60; before the first song there is none.</param>
/// <param name="TrimStartSeconds">What is cut off its start.</param>
/// <param name="TrimEndSeconds">What is cut off its end.</param>
/// <param name="FadeInSeconds">Length of the fade at its start, behind the cut; 0 for none.</param>
/// <param name="FadeInShape">Shape of that fade.</param>
/// <param name="FadeOutSeconds">Length of the fade at its end, before the cut; 0 for none.</param>
/// <param name="FadeOutShape">Shape of that fade.</param>
/// <param name="CrossFadeSeconds">How long the song and the next sound together, with equal power; 0 for not at all. The gap before the next then does not count.</param>
public sealed record SongEdges(
    double GapBeforeSeconds,
    double TrimStartSeconds,
    double TrimEndSeconds,
    double FadeInSeconds,
    FadeShape FadeInShape,
    double FadeOutSeconds,
    FadeShape FadeOutShape,
    double CrossFadeSeconds)
{
    /// <summary>As rendered, two seconds behind the song before (common practice on discs).</summary>
    public static SongEdges Usual { get; } = new(AlbumFields.GapBeforeSeconds.Spec.Default, 0, 0, 0, FadeShape.Smooth, 0, FadeShape.Smooth, 0);

    /// <summary>True when the song itself is cut or faded.</summary>
    public bool ChangesTheSong => TrimStartSeconds > 0 || TrimEndSeconds > 0 || FadeInSeconds > 0 || FadeOutSeconds > 0;

    /// <summary>Fields of the file that this program does not know, kept for a round trip.</summary>
    public UnknownFields Unknown { get; init; } = UnknownFields.None;
}
