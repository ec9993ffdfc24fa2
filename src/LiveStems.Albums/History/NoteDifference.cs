using System.Collections.Immutable;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.History;

/// <summary>Which notes are new and which are gone.</summary>
internal static class NoteDifference
{
    public static IEnumerable<AlbumChange> Between(string place, ImmutableArray<Note> before, ImmutableArray<Note> after) =>
        Between(place, [.. before.Select(Words)], [.. after.Select(Words)]);

    public static IEnumerable<AlbumChange> Between(string place, List<string> was, List<string> now)
    {
        List<string> removed = Without(was, now);
        List<string> added = Without(now, was);
        IEnumerable<AlbumChange> changes = removed.Select(text => new AlbumChange(AlbumChangeKind.Removed, place, text, string.Empty))
            .Concat(added.Select(text => new AlbumChange(AlbumChangeKind.Added, place, string.Empty, text)));
        return removed.Count + added.Count == 0 && !was.SequenceEqual(now)
            ? [new AlbumChange(AlbumChangeKind.Reordered, $"order of {place}s", string.Join(", ", was), string.Join(", ", now))]
            : changes;
    }

    private static string Words(Note note)
    {
        string text = $"“{note.Text.ReplaceLineEndings(" ")}”";
        return note.AtSeconds is { } seconds ? $"{text} at {AlbumFields.AtSeconds.Format(seconds)}" : text;
    }

    private static List<string> Without(List<string> all, List<string> others)
    {
        List<string> rest = [.. all];
        others.ForEach(text => rest.Remove(text));
        return rest;
    }
}
