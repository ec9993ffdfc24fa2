using LiveStems.Engine.RealTime;
using LiveStems.Files.Reading;

namespace LiveStems.Engine.Planning;

/// <summary>What a song is compiled for.</summary>
/// <param name="MaximumFrames">The longest block the plan will be asked for, 1 to 8192.</param>
/// <param name="LookAheadFrames">Frames of each stem held in memory ahead of the music; at least the longest block.</param>
/// <param name="SampleRate">Rate to run at in Hz, or null for the song's own choice.</param>
public sealed record PlanOptions(int MaximumFrames, int LookAheadFrames, int? SampleRate = null)
{
    /// <summary>For rendering: long blocks, and no look-ahead, for stems are read where they are taken.</summary>
    public static PlanOptions Offline { get; } = new(4096, 4096);

    /// <summary>True when settings may change while the plan runs: bypassed processors then stay warm and aligned.</summary>
    public bool IsLive { get; init; }

    /// <summary>
    /// True when the music may jump to another place, for which a second look-ahead stands ready, and go over to the rough mix;
    /// only what is live can.
    /// </summary>
    public bool CanJump
    {
        get => field && IsLive;
        init;
    }
    = true;

    /// <summary>Blocks that may be under way at once: rendering on several threads, the stems run ahead of the song bus.</summary>
    internal int BlocksInFlight => IsLive ? 1 : 4;

    /// <summary>What the time of each processor is taken with, so that one that is too slow is passed by; null takes none.</summary>
    internal TimeProvider? Clock { get; init; }

    /// <summary>Where outside processors sign in and out, so that one that never returns is noticed; null where nobody watches.</summary>
    internal OutsideGuard? Guard { get; init; }

    /// <summary>
    /// How long a processor of others may take for a block or a reset where somebody waits for it: renders take their time, a
    /// plan before it is heard not so much.
    /// </summary>
    internal TimeSpan Patience
    {
        get => patience ?? TimeSpan.FromSeconds(IsLive ? 2 : 10);
        init => patience = value;
    }

    private readonly TimeSpan? patience;

    /// <summary>How a stem's file is opened.</summary>
    internal Func<string, IAudioReader> OpenFile { get; init; } = AudioFile.Open;
}
