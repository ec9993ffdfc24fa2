namespace LiveStems.App.Demo.Score;

/// <summary>A note as written: beats from the start of the song, key number, loudness 0 to 1.</summary>
internal readonly record struct ScoreNote(double Beat, double Beats, double Key, double Velocity);

/// <summary>A note as played: seconds from the start of the file, key number, loudness 0 to 1.</summary>
internal readonly record struct PlayedNote(double Start, double Seconds, double Key, double Velocity);
