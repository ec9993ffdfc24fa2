using System.Collections.Immutable;

namespace LiveStems.Albums.History;

/// <summary>One difference between two albums.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="Place">What it happened to, from the song down: "Foghorn Waltz · Bass · equaliser · band 1 gain".</param>
/// <param name="Before">What it was, as people write it; empty when it was not.</param>
/// <param name="After">What it is; empty when it is no more.</param>
public sealed record AlbumChange(AlbumChangeKind Kind, string Place, string Before, string After)
{
    /// <summary>The place step by step, from the song down, as it is said: "Foghorn Waltz", "Bass", "equaliser", "low-pass frequency".</summary>
    public ImmutableArray<string> Steps { get; init; } = [Place];

    /// <summary>The song it is in; null for what belongs to the album.</summary>
    public string? Song => Steps.Length > 1 ? Steps[0] : null;

    /// <summary>"Bass, equaliser, low-pass frequency: 700 → 650 Hz", below its song.</summary>
    public string Said
    {
        get
        {
            AlbumChange spoken = this with { Place = string.Join(", ", Song is null ? Steps : Steps.RemoveAt(0)) };
            return Kind == AlbumChangeKind.Set ? $"{spoken.Place}: {SharedUnit(Shown(Before), Shown(After))}" : spoken.ToString();
        }
    }

    /// <summary>"Foghorn Waltz · Bass · equaliser · band 1 gain: −2 dB → −3 dB".</summary>
    public override string ToString() => Kind switch
    {
        AlbumChangeKind.Added => After.Length == 0 ? $"{Place}: added" : $"{Place} added: {After}",
        AlbumChangeKind.Removed => Before.Length == 0 ? $"{Place}: removed" : $"{Place} removed: {Before}",
        AlbumChangeKind.Kept => $"{Place}: changed in ways this program does not read",
        _ => $"{Place}: {Shown(Before)} → {Shown(After)}",
    };

    // "−28 dB → −31 dB" is "−28 → −31 dB"; values of other kinds stand as they are.
    private static string SharedUnit(string before, string after)
    {
        int gap = before.LastIndexOf(' ');
        bool isNumber = gap > 0 && (char.IsAsciiDigit(before[0]) || before[0] == '−');
        return isNumber && after.EndsWith(before[gap..], StringComparison.Ordinal) ? $"{before[..gap]} → {after}" : $"{before} → {after}";
    }

    private static string Shown(string text) => text.Length == 0 ? "empty" : text.ReplaceLineEndings(" ");
}
