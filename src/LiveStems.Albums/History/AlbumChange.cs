namespace LiveStems.Albums.History;

/// <summary>One difference between two albums.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="Place">What it happened to, from the song down: "Foghorn Waltz · Bass · equaliser · band 1 gain".</param>
/// <param name="Before">What it was, as people write it; empty when it was not.</param>
/// <param name="After">What it is; empty when it is no more.</param>
public sealed record AlbumChange(AlbumChangeKind Kind, string Place, string Before, string After)
{
    /// <summary>"Foghorn Waltz · Bass · equaliser · band 1 gain: −2 dB → −3 dB".</summary>
    public override string ToString() => Kind switch
    {
        AlbumChangeKind.Added => After.Length == 0 ? $"{Place}: added" : $"{Place} added: {After}",
        AlbumChangeKind.Removed => Before.Length == 0 ? $"{Place}: removed" : $"{Place} removed: {Before}",
        AlbumChangeKind.Kept => $"{Place}: changed in ways this program does not read",
        _ => $"{Place}: {Shown(Before)} → {Shown(After)}",
    };

    private static string Shown(string text) => text.Length == 0 ? "empty" : text.ReplaceLineEndings(" ");
}
