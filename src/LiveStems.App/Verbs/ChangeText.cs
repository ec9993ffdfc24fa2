using System.Text.Json.Nodes;
using LiveStems.Albums.History;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary>Differences between albums for people, song by song, and for programs.</summary>
internal static class ChangeText
{
    /// <summary>Writes them; <paramref name="none"/> when there are none.</summary>
    public static void Write(TextWriter output, IReadOnlyList<AlbumChange> changes, bool asJson, string none)
    {
        if (asJson)
        {
            JsonOutput.Write(output, JsonOutput.Array(changes.Select(Node)));
            return;
        }

        foreach (IGrouping<string?, AlbumChange> song in changes.GroupBy(change => change.Song))
        {
            string indent = string.Empty;
            if (song.Key is not null)
            {
                output.WriteLine(song.Key);
                indent = "  ";
            }

            foreach (AlbumChange change in song)
            {
                output.WriteLine(indent + change.Said);
            }
        }

        if (changes.Count == 0)
        {
            output.WriteLine(none);
        }
    }

    private static JsonObject Node(AlbumChange change) => new()
    {
        ["change"] = change.Kind.ToString().ToLowerInvariant(),
        ["place"] = change.Place,
        ["before"] = change.Before,
        ["after"] = change.After,
        ["words"] = change.Said,
    };
}
