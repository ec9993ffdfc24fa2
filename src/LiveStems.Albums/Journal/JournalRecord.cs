namespace LiveStems.Albums.Journal;

/// <summary>What a line of the journal tells.</summary>
internal enum JournalKind
{
    /// <summary>The journal begins with this state.</summary>
    Start,

    /// <summary>A step was done.</summary>
    Do,

    /// <summary>The step before went on.</summary>
    More,

    /// <summary>The latest step was taken back.</summary>
    Undo,

    /// <summary>What was taken back last was done again.</summary>
    Redo,
}

/// <summary>One line of the journal.</summary>
/// <param name="Kind">What it tells.</param>
/// <param name="Words">What was done, for people.</param>
/// <param name="Patch">How the album's text changed; null where it follows from the lines before.</param>
/// <param name="After">Digest of the album's text afterwards.</param>
/// <param name="At">When.</param>
internal sealed record JournalRecord(JournalKind Kind, string Words, TextPatch? Patch, string After, DateTimeOffset At);
