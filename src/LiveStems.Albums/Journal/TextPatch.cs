namespace LiveStems.Albums.Journal;

/// <summary>One text made of another: a stretch of it replaced. Goes both ways.</summary>
/// <param name="At">Where the stretch begins, in UTF-16 units.</param>
/// <param name="Removed">What stood there.</param>
/// <param name="Inserted">What stands there now.</param>
internal sealed record TextPatch(int At, string Removed, string Inserted)
{
    /// <summary>The smallest single stretch by which two texts differ.</summary>
    public static TextPatch Between(string before, string after)
    {
        int start = before.AsSpan().CommonPrefixLength(after);
        if (start > 0 && char.IsHighSurrogate(before[start - 1]))
        {
            start--;
        }

        int end = 0;
        int most = Math.Min(before.Length, after.Length) - start;
        while (end < most && before[^(end + 1)] == after[^(end + 1)])
        {
            end++;
        }

        if (end > 0 && char.IsLowSurrogate(before[^end]))
        {
            end--;
        }

        return new TextPatch(start, before[start..^end], after[start..^end]);
    }

    /// <summary>The later text; null when <paramref name="before"/> is not what this was made from.</summary>
    public string? Apply(string before) => Replace(before, Removed, Inserted);

    /// <summary>The earlier text; null when <paramref name="after"/> is not what this made.</summary>
    public string? Revert(string after) => Replace(after, Inserted, Removed);

    private string? Replace(string text, string old, string with) =>
        At <= text.Length - old.Length && text.AsSpan(At, old.Length).SequenceEqual(old)
            ? string.Concat(text.AsSpan(0, At), with, text.AsSpan(At + old.Length))
            : null;
}
