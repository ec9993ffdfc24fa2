using LiveStems.Engine.Devices;
using LiveStems.Engine.Planning;

namespace LiveStems.Engine.Live;

/// <summary>What a player shows.</summary>
/// <param name="Song">Title of the song, or null before one is loaded.</param>
/// <param name="IsPlaying">True while it plays.</param>
/// <param name="PositionSeconds">What is heard now, in seconds from the start of the song.</param>
/// <param name="LengthSeconds">Length of the song.</param>
/// <param name="MomentaryLufs">Loudness of the last 0.4 s.</param>
/// <param name="ShortTermLufs">Loudness of the last 3 s.</param>
/// <param name="LeftPeakDbfs">Largest left sample since the last look.</param>
/// <param name="RightPeakDbfs">Largest right sample since the last look.</param>
/// <param name="MissedFrames">Frames of stems that did not come from the disk in time.</param>
/// <param name="Device">Counts of the audio thread.</param>
public sealed record PlayerState(
    string? Song,
    bool IsPlaying,
    double PositionSeconds,
    double LengthSeconds,
    double MomentaryLufs,
    double ShortTermLufs,
    double LeftPeakDbfs,
    double RightPeakDbfs,
    long MissedFrames,
    AudioStatistics Device)
{
    /// <summary>Title of the song that is heard: the one before, until <see cref="Song"/> has come; null before one has.</summary>
    public string? HeardSong { get; init; }

    /// <summary>What is left out because rendering takes too much of its time.</summary>
    public LoadLevel LoadLevel { get; init; }

    /// <summary>Times that meters, views and the music have been left out for that reason.</summary>
    public (long Meters, long Views, long Music) LoadDrops { get; init; }

    /// <summary>Stems that are silent at present because the disk does not deliver them.</summary>
    public IReadOnlyList<string> LateStems { get; init; } = [];

    /// <summary>Deepest gain reduction of the monitor's safety limiter in the last seconds, in decibels, 0 or above.</summary>
    public double SafetyReductionDb { get; init; }

    /// <summary>Samples that reached the monitor and were not finite, since the player began; each silenced both sides for a moment.</summary>
    public long NonFiniteSamples { get; init; }

    /// <summary>True when another song begins at the end of this one.</summary>
    public bool HasFollowing { get; init; }
}
