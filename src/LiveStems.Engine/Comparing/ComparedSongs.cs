using LiveStems.Albums.Model;

namespace LiveStems.Engine.Comparing;

/// <summary>The two sides of a comparison, both as songs, or a song and a finished file.</summary>
/// <param name="Out">The song as it is: what "out" plays.</param>
/// <param name="In">The song that "in" plays, or null when it plays a file or there is no comparison.</param>
/// <param name="InFile">The file that "in" plays, or null.</param>
public sealed record ComparedSongs(Song Out, Song? In, ComparedFile? InFile)
{
    /// <summary>A song with nothing beside it.</summary>
    public static ComparedSongs Only(Song song) => new(song, null, null);
}

/// <summary>A finished sound beside the song.</summary>
/// <param name="Path">Its file; relative to the album's folder or absolute.</param>
/// <param name="DelayFrames">Frames at the song's rate by which it starts after the song; negative starts inside the file.</param>
public sealed record ComparedFile(string Path, int DelayFrames);
