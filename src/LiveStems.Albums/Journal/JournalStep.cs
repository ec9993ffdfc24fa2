using System.Collections.Immutable;

namespace LiveStems.Albums.Journal;

/// <summary>A step as the journal tells it: its words, when it was last added to, and its patches in order.</summary>
internal sealed record JournalStep(string Words, DateTimeOffset At, ImmutableArray<TextPatch> Patches)
{
    /// <summary>The text after the step; null when the text is not what the step was made from.</summary>
    public string? Apply(string text) => Patches.Aggregate((string?)text, (now, patch) => now is null ? null : patch.Apply(now));

    /// <summary>The text before the step; null when the text is not what the step made.</summary>
    public string? Revert(string text) => Patches.Reverse().Aggregate((string?)text, (now, patch) => now is null ? null : patch.Revert(now));
}
