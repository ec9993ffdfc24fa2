using System.Collections.Immutable;
using LiveStems.Albums;
using LiveStems.Albums.History;
using LiveStems.Albums.Storage;

namespace LiveStems.View.Desk;

/// <summary>The versions of the album: named snapshots of all its settings.</summary>
public sealed class VersionsModel
{
    private readonly AlbumDesk desk;

    internal VersionsModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>All versions, the oldest first; read from the disk at every call of <see cref="Refresh"/>.</summary>
    public IReadOnlyList<AlbumVersion> All { get; private set; } = [];

    /// <summary>Looks at what there is. Null, or what is wrong.</summary>
    public string? Refresh() => Try(() => All = AlbumVersions.List(desk.Folder, desk.Catalogue));

    /// <summary>Takes a snapshot. Null, or what is wrong with the name.</summary>
    public string? Save(string name) => Try(() =>
    {
        AlbumVersions.Save(desk.Album, name, desk.Folder, desk.Catalogue);
        All = AlbumVersions.List(desk.Folder, desk.Catalogue);
    });

    /// <summary>The album becomes what it was then; can be undone. Null, or what is wrong.</summary>
    public string? Restore(string name) => desk.Edit(
        album => AlbumVersions.WithPresentFiles(AlbumVersions.Find(album, name, desk.Folder, desk.Catalogue).Album, album),
        words: $"restore version '{name}'");

    /// <summary>Deletes a version for good. Null, or what is wrong.</summary>
    public string? Delete(string name) => Try(() =>
    {
        AlbumVersions.Delete(name, desk.Folder, desk.Catalogue);
        All = AlbumVersions.List(desk.Folder, desk.Catalogue);
    });

    /// <summary>What is other in the album as it is than in a version; empty, with a refusal said, when there is no such version.</summary>
    public ImmutableArray<AlbumChange> DifferenceTo(string name)
    {
        ImmutableArray<AlbumChange> changes = [];
        _ = Try(() => changes = AlbumDifference.Between(
            AlbumVersions.Find(desk.Album, name, desk.Folder, desk.Catalogue).Album, desk.Album, desk.Catalogue));
        return changes;
    }

    private string? Try(Action action)
    {
        try
        {
            action();
            return null;
        }
        catch (AlbumException fault)
        {
            return desk.Refuse(fault.Message);
        }
    }
}
