using System.Collections.Immutable;

namespace LiveStems.Albums.History;

/// <summary>Where a difference lies, from the song down: as written and as said.</summary>
internal sealed record ChangePlace(string Written, ImmutableArray<string> Said)
{
    private const string Separator = " · ";

    public static ChangePlace Album { get; } = new(string.Empty, []);

    public bool IsAlbum => Said.IsEmpty;

    public ChangePlace Add(string name, string? said = null) =>
        new(IsAlbum ? name : Written + Separator + name, Said.Add(said ?? name));
}
