using LiveStems.Albums;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;

namespace LiveStems.View.Desk;

/// <summary>The versions of the album: named snapshots of all its settings.</summary>
public sealed class VersionsModel
{
    private readonly AlbumDesk desk;

    internal VersionsModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>All versions, the oldest first; read from the disk at every call of <see cref="Refresh"/>.</summary>
    public IReadOnlyList<AlbumVersion> All { get; private set; } = [];

    /// <summary>Versions that were deleted and can be brought back, the latest deleted last.</summary>
    public IReadOnlyList<AlbumVersion> Deleted { get; private set; } = [];

    /// <summary>Looks at what there is. Null, or what is wrong.</summary>
    public string? Refresh() => Try(Look);

    /// <summary>Takes a snapshot. Null, or what is wrong with the name.</summary>
    public string? Save(string name) => Try(() =>
    {
        AlbumVersions.Save(desk.Album, name, desk.Folder, desk.Catalogue);
        Look();
    });

    /// <summary>The album becomes what it was then; can be undone. Null, or what is wrong.</summary>
    public string? Restore(string name) => desk.Edit(
        album => AlbumVersions.WithPresentFiles(Find(name), album),
        words: $"restore version '{name}'");

    /// <summary>Takes a version out of the list; undo brings it back, and so does <see cref="BringBack"/> whenever. Null, or what is wrong.</summary>
    public string? Delete(string name) => Try(() =>
    {
        AlbumVersion version = PutAside(name);
        desk.AddStepBeside($"delete version '{version.Name}'", () => version = Return(version), () => version = PutAside(version.Name));
        desk.Say(MessageKind.Remark, $"version '{version.Name}' is deleted; Ctrl+Z brings it back, and Enter among the deleted ones at any time");
    });

    /// <summary>Brings back a version that was deleted; can be undone. Null, or what is wrong.</summary>
    public string? BringBack(AlbumVersion deleted) => Try(() =>
    {
        AlbumVersion version = Return(deleted);
        desk.AddStepBeside($"bring back version '{version.Name}'", () => version = PutAside(version.Name), () => version = Return(version));
    });

    /// <summary>
    /// What is other in one version, or in the album as it is, than in another; of those in <see cref="All"/>, so that nothing
    /// is read from the disk. Null, with a refusal said, when there is no such version or it is of another album.
    /// </summary>
    /// <param name="from">Name of the version it is held against.</param>
    /// <param name="to">Name of the version that is looked at; null for the album as it is.</param>
    public IReadOnlyList<AlbumChange>? DifferenceTo(string from, string? to = null)
    {
        IReadOnlyList<AlbumChange>? changes = null;
        _ = Try(() => changes = AlbumDifference.Between(Listed(from), to is null ? desk.Album : Listed(to), desk.Catalogue));
        return changes;
    }

    private Album Listed(string name) => AlbumVersions.Find(desk.Album, name, All).Album;

    private Album Find(string name) => AlbumVersions.Find(desk.Album, name, desk.Folder, desk.Catalogue).Album;

    private AlbumVersion PutAside(string name)
    {
        AlbumVersion version = AlbumVersions.Delete(name, desk.Folder, desk.Catalogue);
        Look();
        return version;
    }

    private AlbumVersion Return(AlbumVersion deleted)
    {
        AlbumVersion version = DeletedVersions.BringBack(deleted.Name, desk.Folder, desk.Catalogue, deleted.SavedAt);
        Look();
        return version;
    }

    private void Look()
    {
        All = AlbumVersions.List(desk.Folder, desk.Catalogue);
        Deleted = DeletedVersions.List(desk.Folder, desk.Catalogue);
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
