using System.Text;

namespace LiveStems.Albums.Journal;

/// <summary>One text made of another: a stretch of it replaced. Goes both ways.</summary>
/// <param name="At">Where the stretch begins, in UTF-16 units.</param>
/// <param name="Removed">What stood there.</param>
/// <param name="Inserted">What stands there now.</param>
internal sealed record TextPatch(int At, string Removed, string Inserted)
{
    /// <summary>The smallest single stretch of whole characters by which two texts in UTF-8 differ.</summary>
    public static TextPatch Between(ReadOnlySpan<byte> before, ReadOnlySpan<byte> after)
    {
        int start = before.CommonPrefixLength(after);
        while (start > 0 && (IsInside(before, start) || IsInside(after, start)))
        {
            start--;
        }

        int end = 0;
        int most = Math.Min(before.Length, after.Length) - start;
        while (end < most && before[^(end + 1)] == after[^(end + 1)])
        {
            end++;
        }

        while (end > 0 && IsInside(before, before.Length - end))
        {
            end--;
        }

        return new TextPatch(Encoding.UTF8.GetCharCount(before[..start]), Encoding.UTF8.GetString(before[start..^end]), Encoding.UTF8.GetString(after[start..^end]));
    }

    /// <summary>The later text; null when <paramref name="before"/> is not what this was made from.</summary>
    public string? Apply(string before) => Replace(before, Removed, Inserted);

    /// <summary>The earlier text; null when <paramref name="after"/> is not what this made.</summary>
    public string? Revert(string after) => Replace(after, Inserted, Removed);

    private string? Replace(string text, string old, string with) =>
        At <= text.Length - old.Length && text.AsSpan(At, old.Length).SequenceEqual(old)
            ? string.Concat(text.AsSpan(0, At), with, text.AsSpan(At + old.Length))
            : null;

    // The bytes of a character after its first begin with 10.
    private static bool IsInside(ReadOnlySpan<byte> text, int at) => at < text.Length && (text[at] & 0xC0) == 0x80;
}
