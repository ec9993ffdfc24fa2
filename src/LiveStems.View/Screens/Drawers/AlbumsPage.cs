using LiveStems.Albums.Storage;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Albums that were open before, and the folders of the disk: open an album, or bring a folder in.</summary>
/// <param name="desk">The desk.</param>
/// <param name="recent">Albums that were open before, the latest first.</param>
/// <param name="open">Opens an album in place of this one.</param>
internal sealed class AlbumsPage(AlbumDesk desk, Func<IReadOnlyList<RecentAlbum>> recent, Action<string> open) : DrawerPage(desk)
{
    private const int ShownRecent = 8;

    private string folder = Path.GetDirectoryName(Path.TrimEndingDirectorySeparator(desk.Folder)) ?? desk.Folder;
    private Task<Listing>? reading;
    private Listing listing = new([], string.Empty);
    private IReadOnlyList<RecentAlbum> before = [];

    public override string Id => "albums";

    public override string Name => "albums";

    public override string Key => "Ctrl+O";

    public override string Purpose => "Open another album, or import folders";

    public override string Explanation => $"{folder}{(listing.Fault.Length > 0 ? $": {listing.Fault}" : string.Empty)}";

    public override string? JobKind => WorkModel.ImportKind;

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => "up", () => Done(() => GoTo(Path.GetDirectoryName(folder) ?? folder)), "To the folder around this one."),
        new(() => "home", () => Done(() => GoTo(Environment.GetFolderPath(Environment.SpecialFolder.UserProfile))), "To your own folder."),
        new(() => "import this folder", () => Done(() => Desk.Work.Import([folder])), "A folder of sound files becomes a song of this album, a folder of folders several; then all is checked. Folders can be dropped on the window too."),
    ];

    public override DrawerEntry Entry => new(() => "type a folder", Type);

    public override object State
    {
        get
        {
            if (reading is { IsCompleted: true } done)
            {
                listing = done.Result;
                reading = null;
            }

            return (listing, folder, before);
        }
    }

    public override void Opened()
    {
        before = recent();
        GoTo(folder);
    }

    public override IReadOnlyList<DrawerLine> Lines()
    {
        RecentAlbum[] others = [.. before.Where(album => album.Folder != Desk.Folder).Take(ShownRecent)];
        return
        [
            .. listing.Folders.Select(LineOf),
            .. others.Length == 0 ? (DrawerLine[])[] : [DrawerLine.Heading("open before")],
            .. others.Select(album =>
                new DrawerLine(album.Title, $"{album.OpenedAt.ToLocalTime():d MMM yyyy}", album.Folder) { Act = () => Done(() => open(album.Folder)) }),
        ];
    }

    private static Listing Read(string folder)
    {
        try
        {
            return new([.. Directory.EnumerateDirectories(folder)
                .Where(each => !Path.GetFileName(each).StartsWith('.'))
                .Order(StringComparer.CurrentCultureIgnoreCase)
                .Select(each => (each, File.Exists(Path.Combine(each, AlbumFile.Name))))], string.Empty);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return new([], fault.Message);
        }
    }

    private DrawerLine LineOf((string Path, bool IsAlbum) each) => new(Path.GetFileName(each.Path), each.IsAlbum ? "album" : string.Empty)
    {
        Tone = each.IsAlbum ? Tone.Output : Tone.Text,
        Act = () => Done(() => Enter(each.Path, each.IsAlbum)),
    };

    private void Enter(string path, bool isAlbum)
    {
        if (isAlbum)
        {
            open(path);
        }
        else
        {
            GoTo(path);
        }
    }

    private void GoTo(string path)
    {
        folder = path;
        // A disk may take its time; the window does not wait for it.
        reading = Task.Run(() => Read(path));
    }

    private string? Type(string text)
    {
        string path = PathOf(text, folder);
        if (!Directory.Exists(path))
        {
            return $"there is no folder {path}";
        }

        Enter(path, File.Exists(Path.Combine(path, AlbumFile.Name)));
        return null;
    }

    private sealed record Listing(IReadOnlyList<(string Path, bool IsAlbum)> Folders, string Fault);
}
