using LiveStems.Albums.History;
using LiveStems.Albums.Storage;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Named snapshots of the album: save, compare against, restore, delete, bring back.</summary>
internal sealed class VersionsPage(AlbumDesk desk) : DrawerPage(desk)
{
    private string? toDelete;
    private string? marked;
    private (string From, string? To)? differs;

    public override string Id => "versions";

    public override string Name => "versions";

    public override string Key => "5";

    public override string Purpose => "Versions of the album";

    public override string Explanation => toDelete is { } name
        ? $"Press Delete again to delete “{name}”; anything else keeps it. Ctrl+Z brings it back."
        : Desk.Versions.All.Count + Desk.Versions.Deleted.Count == 0 ? "Snapshots of every setting; none yet: type a name below and press Enter."
        : marked is { } from ? $"“{from}” is marked: choose another version, and “what is other” lists what changed from the one to the other."
        : "Snapshots of every setting. Enter compares the song with how it was then, and brings a deleted one back; Ctrl+Z takes a restoring or deleting back.";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => "compare", () => WithChosen(Compare), "Hears the song as it was in the chosen version against how it is now, equally loud."),
        new(() => "restore", () => WithChosen(Desk.Versions.Restore), "The album becomes what it was then; can be undone."),
        new(() => ChosenName is { } name && name == marked ? "no mark" : "mark", () => WithChosen(Mark), "Marks the chosen version: what is other is listed from it to the version that is chosen then, instead of to now."),
        new(() => IsToHide ? "hide what is other" : "what is other", () => IsToHide ? Done(() => differs = null) : WithChosen(Differ), "Lists in words what has changed since the chosen version, or from the marked version to the chosen one."),
    ];

    public override DrawerEntry Entry => new(() => "save as: name of a version", Save);

    public override object State => (Desk.Versions.All, Desk.Versions.Deleted, toDelete, marked, differs, Desk.Revision, Desk.Compare.Words);

    public override void Opened() => _ = Desk.Versions.Refresh();

    public override IReadOnlyList<DrawerLine> Lines()
    {
        List<DrawerLine> lines = [.. Desk.Versions.All.Reverse().Select(LineOf)];
        if (differs is var (from, to) && TakeChanges(from, to) is { } changes)
        {
            lines.Add(DrawerLine.Heading(to is null ? $"other than in “{from}”" : $"from “{from}” to “{to}”", $"{changes.Count}"));
            lines.AddRange(changes.Select(change => new DrawerLine(change.ToString())));
        }

        if (Desk.Versions.Deleted is { Count: > 0 } deleted)
        {
            lines.Add(DrawerLine.Heading("deleted", $"{deleted.Count}"));
            lines.AddRange(deleted.Reverse().Select(version => new DrawerLine(version.Name, Taken(version)) { Tone = Tone.Quiet, Act = () => Desk.Versions.BringBack(version) }));
        }

        return lines;
    }

    protected override void OnChosen(int line) => toDelete = null;

    // In their order, the latest first.
    private string? ChosenName => Chosen >= 0 && Chosen < Desk.Versions.All.Count ? Desk.Versions.All[^(Chosen + 1)].Name : null;

    // What is shown is hidden by what would show it again, and by nothing else.
    private bool IsToHide => differs is { } shown && (ChosenName is not { } name || WouldShow(name) == shown);

    private DrawerLine LineOf(AlbumVersion version) => new(version.Name, Taken(version))
    {
        IsOn = marked is null ? null : marked == version.Name,
        Act = () => Compare(version.Name),
        Remove = () => Delete(version.Name),
    };

    private static string Taken(AlbumVersion version) => $"{version.SavedAt.ToLocalTime():d MMM yyyy, H:mm}";

    private string? WithChosen(Func<string, string?> what) => ChosenName is { } name ? what(name) : "choose a version first";

    private string? Save(string name) => Desk.Versions.Save(name.Trim());

    private string? Compare(string name) => Desk.Compare.Choose(CompareKind.Version, name) ?? Desk.Compare.Hear(Engine.Comparing.CompareSide.In);

    private string? Mark(string name)
    {
        marked = marked == name ? null : name;
        return null;
    }

    private string? Differ(string name)
    {
        differs = WouldShow(name);
        return null;
    }

    // A mark on a version that is gone marks nothing.
    private (string From, string? To) WouldShow(string name) =>
        marked is { } from && from != name && IsThere(from) ? (from, name) : (name, null);

    // Of a version that is gone, or that cannot be held against this album, nothing is shown any more.
    private IReadOnlyList<AlbumChange>? TakeChanges(string from, string? to)
    {
        IReadOnlyList<AlbumChange>? changes = IsThere(from) && (to is null || IsThere(to)) ? Desk.Versions.DifferenceTo(from, to) : null;
        differs = changes is null ? null : differs;
        return changes;
    }

    private bool IsThere(string name) => Desk.Versions.All.Any(version => version.Name == name);

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
