using System.CommandLine;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;

namespace LiveStems.App.Verbs;

/// <summary><c>diff</c>: two versions of an album compared in words.</summary>
internal static class DiffVerb
{
    /// <summary>The verb.</summary>
    public static Command Create()
    {
        Argument<string> album = CommonOptions.Album();
        Argument<string> first = new("version") { Description = "A version by name or by the path of its file, or 'now'." };
        Argument<string> second = new("other") { Description = "The version to compare it with; the album as it is when not given.", DefaultValueFactory = _ => AlbumVersions.Now };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("diff", "Says in words what is other in one version of an album than in another.") { album, first, second, json };
        verb.AddExamples(
            "livestems diff Album \"first listen\"",
            "livestems diff Album \"first listen\" \"softer voice\" --json");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            Album now = AlbumFile.Load(path, Processors.Catalogue);
            AlbumVersion before = AlbumVersions.Find(now, parsed.GetRequiredValue(first), path, Processors.Catalogue);
            AlbumVersion after = AlbumVersions.Find(now, parsed.GetRequiredValue(second), path, Processors.Catalogue);
            ChangeText.Write(
                parsed.InvocationConfiguration.Output,
                AlbumDifference.Between(before.Album, after.Album, Processors.Catalogue),
                parsed.GetValue(json),
                "no difference");
            return 0;
        });
        return verb;
    }
}
