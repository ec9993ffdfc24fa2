namespace LiveStems.App.Playing;

/// <summary>How a song is to be played.</summary>
/// <param name="FromSeconds">Where to start.</param>
/// <param name="Seconds">How long to play, or null to the end.</param>
/// <param name="Loop">A stretch to repeat, in seconds.</param>
/// <param name="IsWholeAlbum">True to go on to the songs that follow.</param>
/// <param name="Device">The device that was asked for; null for the system's choice.</param>
/// <param name="BufferFrames">Frames it is to ask for at a time.</param>
/// <param name="Record">A file for what the monitor plays, or null.</param>
internal sealed record PlayOptions(
    double FromSeconds,
    double? Seconds,
    (double Start, double End)? Loop,
    bool IsWholeAlbum,
    string? Device,
    int BufferFrames,
    string? Record);
