using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.App.Terminal;

namespace LiveStems.App.Verbs;

/// <summary><c>versions</c>: named snapshots of the whole album.</summary>
internal static class VersionsVerb
{
    /// <summary>The verb.</summary>
    public static Command Create()
    {
        Argument<string> album = CommonOptions.Album();
        Option<string?> save = new("--save") { Description = "NAME: takes a snapshot of every setting." };
        Option<string?> restore = new("--restore") { Description = "NAME: the album becomes what it was then; 'livestems undo' takes it back." };
        Option<string?> delete = new("--delete") { Description = "NAME: deletes a version; --bring-back takes it back." };
        Option<string?> back = new("--bring-back") { Description = "NAME: brings back a version that was deleted, by command or in the window." };
        Option<bool> gone = new("--deleted") { Description = "Lists the versions that were deleted." };
        Option<bool> json = CommonOptions.Json();
        Command verb = new("versions", "Lists, takes, restores, deletes and brings back versions of an album: named snapshots of all its settings.") { album, save, restore, delete, back, gone, json };
        verb.AddExamples(
            "livestems versions Album",
            "livestems versions Album --save \"first listen\"",
            "livestems versions Album --restore \"first listen\"",
            "livestems versions Album --delete \"first listen\"",
            "livestems versions Album --bring-back \"first listen\"");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            string?[] wishes = [parsed.GetValue(save), parsed.GetValue(restore), parsed.GetValue(delete), parsed.GetValue(back)];
            if (wishes.Count(wish => wish is not null) + (parsed.GetValue(gone) ? 1 : 0) > 1)
            {
                throw new UsageException("one of --save, --restore, --delete, --bring-back and --deleted at a time");
            }

            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(delete) is { } unwanted)
            {
                AlbumVersion deleted = AlbumVersions.Delete(unwanted, path, Processors.Catalogue);
                Tell(output, parsed.GetValue(json), "deleted", deleted, $"; 'livestems versions ALBUM --bring-back \"{deleted.Name}\"' takes that back");
            }
            else if (parsed.GetValue(back) is { } missed)
            {
                Tell(output, parsed.GetValue(json), "brought back", DeletedVersions.BringBack(missed, path, Processors.Catalogue));
            }
            else if (parsed.GetValue(restore) is { } wanted)
            {
                Tell(output, parsed.GetValue(json), "restored", Restore(path, wanted));
            }
            else if (parsed.GetValue(save) is { } name)
            {
                Album now = AlbumFile.Load(path, Processors.Catalogue);
                Tell(output, parsed.GetValue(json), "saved", AlbumVersions.Save(now, name, path, Processors.Catalogue));
            }
            else
            {
                List(output, path, parsed.GetValue(gone), parsed.GetValue(json));
            }

            return 0;
        });
        return verb;
    }

    private static AlbumVersion Restore(string path, string name)
    {
        using AlbumSession session = AlbumSession.Open(path, Processors.Catalogue);
        AlbumVersion version = AlbumVersions.Find(session.Album, name, path, Processors.Catalogue);
        session.Do(AlbumVersions.WithPresentFiles(version.Album, session.Album), $"restore version '{version.Name}'");
        session.Flush();
        return version;
    }

    private static void Tell(TextWriter output, bool asJson, string what, AlbumVersion version, string more = "")
    {
        if (asJson)
        {
            JsonObject node = Node(version);
            node["change"] = what;
            JsonOutput.Write(output, node);
            return;
        }

        output.WriteLine($"{what} '{version.Name}' of {version.SavedAt.ToLocalTime():yyyy-MM-dd HH:mm}{more}");
    }

    private static void List(TextWriter output, string path, bool areDeleted, bool asJson)
    {
        _ = AlbumFile.Load(path, Processors.Catalogue);
        IReadOnlyList<AlbumVersion> versions = areDeleted ? DeletedVersions.List(path, Processors.Catalogue) : AlbumVersions.List(path, Processors.Catalogue);
        if (asJson)
        {
            JsonOutput.Write(output, JsonOutput.Array(versions.Select(Node)));
            return;
        }

        if (versions.Count == 0)
        {
            output.WriteLine(areDeleted ? "no version was deleted" : "no versions yet; 'livestems versions ALBUM --save NAME' takes one");
            return;
        }

        TextTable table = new("version", "saved", "songs", "processors");
        foreach (AlbumVersion version in versions)
        {
            table.Add(version.Name, version.SavedAt.ToLocalTime().ToString("yyyy-MM-dd HH:mm"), version.Album.Songs.Length.ToString(), CountOf(version.Album).ToString());
        }

        table.WriteTo(output);
    }

    private static JsonObject Node(AlbumVersion version) => new()
    {
        ["version"] = version.Name,
        ["savedAt"] = version.SavedAt.ToString("O"),
        ["songs"] = version.Album.Songs.Length,
        ["processors"] = CountOf(version.Album),
    };

    private static int CountOf(Album album) => album.Songs.Sum(song =>
        song.Bus.Slots.Length + song.Stems.Sum(stem => stem.Chain.Slots.Length + stem.Parallels.Sum(parallel => parallel.Chain.Slots.Length)));
}
