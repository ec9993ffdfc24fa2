using LiveStems.View.Controls;

namespace LiveStems.View.Screens.Drawers;

/// <summary>The pages of the drawer as a list to choose from, where there is no room for their names side by side.</summary>
internal static class DrawerChooser
{
    public static Chooser Create(Drawer drawer)
    {
        IReadOnlyList<DrawerPage> found = drawer.Pages;
        return new Chooser(
            "drawers",
            "what is it about?",
            typed => [.. (found = [.. drawer.Pages.Where(page => Choosers.Fits($"{page.Name} {page.Purpose}", typed))]).Select(page => new ChoiceLine($"{page.Name}: {page.Purpose}", page.Key))],
            index => drawer.Open(found[index]));
    }
}
