namespace LiveStems.Engine.Live;

/// <summary>
/// Where frames are missing in a stream between the audio thread and the one that writes it to a file: a ring without locks.
/// </summary>
/// <param name="most">Gaps it holds at most.</param>
internal sealed class RecordingGaps(int most)
{
    private readonly (long Place, long Frames)[] gaps = new (long, long)[most];
    private long added;
    private long passed;

    /// <summary>
    /// Audio thread: so many frames are missing before a frame of the stream; called before that frame is handed over. False,
    /// and nothing done, when no more gaps can be held.
    /// </summary>
    public bool TryAdd(long place, long frames)
    {
        if (added - Volatile.Read(ref passed) >= gaps.Length)
        {
            return false;
        }

        gaps[added % gaps.Length] = (place, frames);
        Volatile.Write(ref added, added + 1);
        return true;
    }

    /// <summary>Writing thread: the next gap, or null.</summary>
    public (long Place, long Frames)? Next => Volatile.Read(ref added) > passed ? gaps[passed % gaps.Length] : null;

    /// <summary>Writing thread: the next gap has been written.</summary>
    public void Pass() => Volatile.Write(ref passed, passed + 1);
}
