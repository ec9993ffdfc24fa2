namespace LiveStems.App.Playing;

/// <summary>How a song is to be played.</summary>
/// <param name="FromSeconds">Where to start.</param>
/// <param name="Seconds">How long to play, or null to the end.</param>
/// <param name="Loop">A stretch to repeat, in seconds.</param>
/// <param name="Band">A band to listen to alone: centre in Hz and width in octaves.</param>
/// <param name="LevelDb">Monitor level in decibels.</param>
/// <param name="IsDimmed">True to start dimmed.</param>
internal sealed record PlayOptions(
    double FromSeconds,
    double? Seconds,
    (double Start, double End)? Loop,
    (double CentreHz, double WidthOctaves)? Band,
    double LevelDb,
    bool IsDimmed);
