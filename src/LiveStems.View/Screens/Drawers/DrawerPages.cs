using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>All pages of the drawer and the commands that open them.</summary>
internal static class DrawerPages
{
    private const string Group = "Drawers";

    /// <param name="desk">The desk.</param>
    /// <param name="recent">Albums that were open before; null where the disk outside of the album is none of the window's business.</param>
    /// <param name="open">Opens an album in place of this one.</param>
    /// <param name="show">Shows a list to choose from.</param>
    public static IReadOnlyList<DrawerPage> Of(AlbumDesk desk, Func<IReadOnlyList<RecentAlbum>>? recent, Action<string> open, Action<Chooser> show) =>
    [
        new AlbumPage(desk), new TitlesPage(desk, chosen => show(SoundFileChooser.Create(desk.Folder, show, chosen))), new StemPage(desk), new CheckPage(desk), new TroublePage(desk), new MaskingPage(desk), new HeadroomPage(desk), new VersionsPage(desk), new BlindPage(desk),
        new NotesPage(desk), new DeliveryPage(desk), new PapersPage(desk), new EarsPage(desk), new DevicesPage(desk), new ProcessorsPage(desk), new MessagesPage(desk),
        .. recent is null ? (DrawerPage[])[] : [new AlbumsPage(desk, recent, open)],
    ];

    public static void AddTo(CommandList list, AlbumDesk desk, Drawer drawer)
    {
        foreach (DrawerPage page in drawer.Pages)
        {
            list.Add($"drawer-{page.Id}", Group, page.Purpose, page.Key, () => drawer.Toggle(page.Id), $"drawer open {page.Name} {page.SearchWords}");
        }

        TitlesPage titles = drawer.Pages.OfType<TitlesPage>().Single();
        foreach (TitleKind kind in Enum.GetValues<TitleKind>())
        {
            list.Add($"change-{kind}".ToLowerInvariant(), Group, WordsOf(kind), string.Empty, () => Ask(drawer, titles, kind), "change edit name set");
        }

        BlindModel blind = desk.Compare.Blind;
        list.Add("blind-first", Group, "Blind test: hear the first", ",", () => blind.Hear(first: true));
        list.Add("blind-second", Group, "Blind test: hear the second", ".", () => blind.Hear(first: false));
        list.Add("marker", Group, "Set a marker here", "J", () => desk.Transport.AddMarker(), "mark place note");
        list.Add("drawer-close", Group, "Close the drawer", "U", drawer.Close);
    }

    private static string WordsOf(TitleKind kind) => kind switch
    {
        TitleKind.Song => "Another title for the song",
        TitleKind.Album => "Another title for the album",
        TitleKind.Artist => "Another artist for the album",
        _ => $"Another {TitlesPage.NameOf(kind)} for the song",
    };

    private static string? Ask(Drawer drawer, TitlesPage titles, TitleKind kind)
    {
        if (kind != TitleKind.RoughMix)
        {
            drawer.Open(titles);
        }

        return titles.Ask(kind);
    }
}
