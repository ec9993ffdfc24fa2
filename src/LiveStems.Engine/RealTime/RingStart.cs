namespace LiveStems.Engine.RealTime;

/// <summary>What one filling of a ring holds.</summary>
/// <param name="Ring">The ring, 0 or 1.</param>
/// <param name="SongFrame">Frame of the song that it starts with.</param>
/// <param name="Loop">The loop it runs in, or null.</param>
/// <param name="Generation">Number of the filling; a ring that holds another filling has nothing to give.</param>
internal sealed record RingStart(int Ring, long SongFrame, LoopRegion? Loop, long Generation)
{
    /// <summary>True where the music goes on as it does: the frame is where it stood, and what has been played since is passed over.</summary>
    public bool GoesOn { get; init; }

    /// <summary>The first filling of all: the song from its start.</summary>
    public static RingStart First { get; } = new(0, 0, null, 0);

    /// <summary>Frame of the song after so many frames from the start of the ring.</summary>
    public long Locate(long frames) => Loop is null ? SongFrame + frames : Loop.Fold(SongFrame + frames);
}
