using LiveStems.Albums.History;
using LiveStems.Albums.Storage;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Named snapshots of the album: save, compare against, restore, delete, bring back.</summary>
internal sealed class VersionsPage(AlbumDesk desk) : DrawerPage(desk)
{
    private const int ToldChanges = 30;

    private string? toDelete;
    private string? differs;

    public override string Id => "versions";

    public override string Name => "versions";

    public override string Key => "5";

    public override string Purpose => "Versions of the album";

    public override string Explanation => toDelete is { } name
        ? $"Press Delete again to delete “{name}”; anything else keeps it. Ctrl+Z brings it back."
        : Desk.Versions.All.Count + Desk.Versions.Deleted.Count == 0 ? "Snapshots of every setting; none yet: type a name below and press Enter."
        : "Snapshots of every setting. Enter compares the song with how it was then, and brings a deleted one back; Ctrl+Z takes a restoring or deleting back.";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => "compare", () => WithChosen(Compare), "Hears the song as it was in the chosen version against how it is now, equally loud."),
        new(() => "restore", () => WithChosen(Desk.Versions.Restore), "The album becomes what it was then; can be undone."),
        new(() => differs is null ? "what is other" : "hide what is other", () => differs is null ? WithChosen(Differ) : Done(() => differs = null), "Lists in words what has changed since the chosen version."),
    ];

    public override DrawerEntry Entry => new(() => "save as: name of a version", Save);

    public override object State => (Desk.Versions.All, Desk.Versions.Deleted, toDelete, differs, Desk.Revision, Desk.Compare.Words);

    public override void Opened() => _ = Desk.Versions.Refresh();

    public override IReadOnlyList<DrawerLine> Lines()
    {
        List<DrawerLine> lines = [.. Desk.Versions.All.Reverse().Select(LineOf)];
        if (differs is { } name)
        {
            IReadOnlyList<AlbumChange> changes = Desk.Versions.DifferenceTo(name);
            lines.Add(DrawerLine.Heading($"other than in “{name}”", $"{changes.Count}"));
            lines.AddRange(changes.Take(ToldChanges).Select(change => new DrawerLine(change.ToString())));
            lines.AddRange(changes.Count > ToldChanges ? [new DrawerLine($"and {changes.Count - ToldChanges} more; 'livestems diff' lists all") { Tone = Tone.Quiet }] : []);
        }

        if (Desk.Versions.Deleted is { Count: > 0 } deleted)
        {
            lines.Add(DrawerLine.Heading("deleted", $"{deleted.Count}"));
            lines.AddRange(deleted.Reverse().Select(version => new DrawerLine(version.Name, Taken(version)) { Tone = Tone.Quiet, Act = () => Desk.Versions.BringBack(version) }));
        }

        return lines;
    }

    protected override void OnChosen(int line) => toDelete = null;

    private DrawerLine LineOf(AlbumVersion version) => new(version.Name, Taken(version))
    {
        Act = () => Compare(version.Name),
        Remove = () => Delete(version.Name),
    };

    private static string Taken(AlbumVersion version) => $"{version.SavedAt.ToLocalTime():d MMM yyyy, H:mm}";

    private string? WithChosen(Func<string, string?> what)
    {
        AlbumVersion[] all = [.. Desk.Versions.All.Reverse()];
        return Chosen >= 0 && Chosen < all.Length ? what(all[Chosen].Name) : "choose a version first";
    }

    private string? Save(string name) => Desk.Versions.Save(name.Trim());

    private string? Compare(string name) => Desk.Compare.Choose(CompareKind.Version, name) ?? Desk.Compare.Hear(Engine.Comparing.CompareSide.In);

    private string? Differ(string name)
    {
        differs = name;
        return null;
    }

    private string? Delete(string name)
    {
        if (toDelete != name)
        {
            toDelete = name;
            return null;
        }

        toDelete = null;
        return Desk.Versions.Delete(name);
    }
}
