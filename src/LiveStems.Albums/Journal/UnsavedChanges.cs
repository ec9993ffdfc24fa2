using System.Collections.Immutable;

namespace LiveStems.Albums.Journal;

/// <summary>What is to happen with changes that were journalled but not saved, because a session ended by a crash.</summary>
public enum Unsaved
{
    /// <summary>The album is not opened; the message says how to take them in.</summary>
    Refuse,

    /// <summary>They are taken in, and can be undone.</summary>
    TakeIn,

    /// <summary>The album is as it was saved; undo brings them back.</summary>
    Leave,
}

/// <summary>Changes that were journalled but not saved.</summary>
/// <param name="Words">What was done, in order.</param>
/// <param name="At">When the last of it was done.</param>
public sealed record UnsavedChanges(ImmutableArray<string> Words, DateTimeOffset At)
{
    /// <summary>"3 changes of 25 November 21:03, the last 'Bass, gain: 0 → −1 dB'".</summary>
    public override string ToString() =>
        $"{(Words.Length == 1 ? "a change" : $"{Words.Length} changes")} of {At.ToLocalTime():d MMMM HH:mm}, the last '{Words[^1]}'";
}
