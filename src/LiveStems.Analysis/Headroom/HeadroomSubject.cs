using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Headroom;

/// <summary>What a line of the account is about.</summary>
public enum HeadroomSubjectKind
{
    /// <summary>Everything that is done to a stem: its chain and its parallels.</summary>
    WholeStem,

    /// <summary>One processor of a stem's chain.</summary>
    StemCorrection,

    /// <summary>A parallel with all its processors.</summary>
    WholeParallel,

    /// <summary>One processor of a parallel's chain.</summary>
    ParallelCorrection,

    /// <summary>One processor of the song bus before the limiter.</summary>
    BusCorrection,
}

/// <summary>A correction, or a stem's whole treatment, that is taken out and put in by itself.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Stem">Index of its stem in the song; −1 for the song bus.</param>
/// <param name="Parallel">Name of its parallel, or null.</param>
/// <param name="Slot">Id of its slot, or null for a whole stem or parallel.</param>
/// <param name="Words">How people call it: "Lead voice, de-esser".</param>
public sealed record HeadroomSubject(HeadroomSubjectKind Kind, int Stem, string? Parallel, string? Slot, string Words)
{
    /// <summary>The stem, or the chain of the bus, with this subject out and all else as it is.</summary>
    internal Func<Song, Song> TakeOut { get; init; } = song => song;

    /// <summary>The song, from which every correction is out, with this subject put in.</summary>
    internal Func<Song, Song> PutIn { get; init; } = song => song;
}
