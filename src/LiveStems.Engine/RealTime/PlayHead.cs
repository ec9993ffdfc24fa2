namespace LiveStems.Engine.RealTime;

/// <summary>
/// Where a song plays, for all its stems at once: playing or stopped, which look-ahead, and the fades between.
/// </summary>
/// <remarks>
/// A jump never stalls: while the music goes on from one ring, the streaming thread fills the other from the new place,
/// and only then asks for the switch, which is a cross-fade.
/// </remarks>
internal sealed class PlayHead
{
    private readonly int fadeFrames;
    private volatile bool shouldPlay;
    private int gate;
    private int ring;
    private int fadePosition;
    private RingStart? requested;
    private RingStart playing = RingStart.First;
    private long leavingGeneration;
    private long passed;
    private bool isInStep;
    private long takenFromRing;
    private long position;

    /// <param name="fadeFrames">Length of every fade in frames.</param>
    public PlayHead(int fadeFrames)
    {
        this.fadeFrames = fadeFrames;
        fadePosition = fadeFrames;
    }

    /// <summary>Frame of the song that the next block starts with.</summary>
    public long Position => Volatile.Read(ref position);

    /// <summary>Any thread: frame of the song that was played so many frames before the next one, in a loop behind its end where it has come round since; 0 at least.</summary>
    public long PositionBefore(long frames)
    {
        RingStart now = Volatile.Read(ref playing);
        long place = Volatile.Read(ref takenFromRing) - frames;
        return place >= 0 ? now.Locate(place) : Math.Max(0, now.SongFrame + place);
    }

    /// <summary>True while nothing of the song has been played and it will begin with its first frame.</summary>
    public bool IsAtStart => (Volatile.Read(ref requested)?.SongFrame ?? Position) == 0;

    /// <summary>True while the song plays or is about to.</summary>
    public bool ShouldPlay
    {
        get => shouldPlay;
        set => shouldPlay = value;
    }

    /// <summary>Ring that is playing; the other one is free when no switch is under way.</summary>
    public int PlayingRing => Volatile.Read(ref ring);

    /// <summary>True from the request of a switch until its cross-fade is over: the other ring is then in use.</summary>
    public bool IsSwitching => Volatile.Read(ref requested) is not null || Volatile.Read(ref fadePosition) < fadeFrames;

    /// <summary>Streaming thread: the other ring is filled; go over to it.</summary>
    public void RequestSwitch(RingStart start) => Volatile.Write(ref requested, start);

    /// <summary>Audio thread: true while the song goes round in a loop.</summary>
    public bool IsLooping => playing.Loop is not null;

    /// <summary>Opens at once, without a fade, at the start: for rendering, and for a song that follows another without a gap.</summary>
    public void OpenAtStart()
    {
        shouldPlay = true;
        gate = fadeFrames;
        ring = 0;
        fadePosition = fadeFrames;
        requested = null;
        playing = RingStart.First;
        takenFromRing = 0;
        passed = 0;
        position = 0;
    }

    /// <summary>Audio thread: decides what the next frames are.</summary>
    public BlockWindow BeginBlock(int frames)
    {
        if (fadePosition >= fadeFrames && Volatile.Read(ref requested) is { } next)
        {
            leavingGeneration = playing.Generation;
            passed = next.GoesOn ? position - next.SongFrame : 0;

            // Below 0 a loop has begun anew meanwhile.
            isInStep = next.GoesOn && passed >= 0;
            passed = Math.Max(0, passed);
            Volatile.Write(ref playing, next);
            Volatile.Write(ref takenFromRing, passed);

            // Standing still there is nothing to fade from.
            fadePosition = gate == 0 ? fadeFrames : 0;
            Volatile.Write(ref ring, next.Ring);
            Volatile.Write(ref position, playing.Locate(passed));

            // Last, so that the switch is under way or asked for at every moment in between.
            Volatile.Write(ref requested, null);
        }

        bool opens = shouldPlay;
        if (gate == 0 && !opens)
        {
            // What cannot be heard need not be faded.
            Volatile.Write(ref fadePosition, fadeFrames);
        }

        if (gate == 0 && opens && position == 0)
        {
            // Before its first frame there is nothing that a fade could join: a beat there is heard as it is.
            gate = fadeFrames;
        }

        int step = opens ? (gate < fadeFrames ? 1 : 0) : (gate > 0 ? -1 : 0);
        int take = opens ? frames : Math.Min(frames, gate);
        return new BlockWindow(take, ring, playing.Generation, leavingGeneration, fadePosition < fadeFrames ? fadePosition : -1, fadeFrames, gate, step, passed, isInStep);
    }

    /// <summary>Audio thread: the frames of the window have been taken.</summary>
    public void EndBlock(in BlockWindow window)
    {
        gate = Math.Clamp(window.GateFrom + window.GateStep * window.Frames, 0, fadeFrames);
        Volatile.Write(ref fadePosition, Math.Min(fadeFrames, fadePosition + window.Frames));
        Volatile.Write(ref takenFromRing, takenFromRing + window.Frames);
        Volatile.Write(ref position, playing.Locate(takenFromRing));
    }
}
