using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>What a drawer holds: a few words, buttons, lines, perhaps a field to type into. Knows nothing of how it is drawn.</summary>
internal abstract class DrawerPage(AlbumDesk desk)
{
    private string? wanted;

    /// <summary>Stable name: "check".</summary>
    public abstract string Id { get; }

    /// <summary>What stands on it: "check".</summary>
    public abstract string Name { get; }

    /// <summary>The key that opens it.</summary>
    public abstract string Key { get; }

    /// <summary>What it is for, in the words of the list of commands.</summary>
    public abstract string Purpose { get; }

    /// <summary>Other words that the command search finds it by.</summary>
    public virtual string SearchWords => string.Empty;

    /// <summary>A sentence or two at its head.</summary>
    public abstract string Explanation { get; }

    /// <summary>The kind of job whose progress is shown in it; null for none.</summary>
    public virtual string? JobKind => null;

    public virtual IReadOnlyList<DrawerButton> Buttons => [];

    public virtual DrawerEntry? Entry => null;

    /// <summary>What the words in the field are for, by name: where that has changed since they were typed, they are not taken unasked.</summary>
    public virtual string About => string.Empty;

    /// <summary>Values that are set by typing, dragging and turning, below the lines; the same objects as long as the page is open.</summary>
    public virtual IReadOnlyList<ValueField> Values => [];

    /// <summary>What the values are of.</summary>
    public virtual string ValuesName => string.Empty;

    /// <summary>Changes whenever the lines are others.</summary>
    public virtual object State => desk.Revision;

    /// <summary>Words that the page wants in its field, to be changed there; handed over once.</summary>
    public string? TakeWords()
    {
        string? taken = wanted;
        wanted = null;
        return taken;
    }

    /// <summary>The line that the keyboard is on; −1 for none.</summary>
    public int Chosen { get; private set; } = -1;

    protected AlbumDesk Desk => desk;

    /// <summary>The full path of what was typed: relative to a folder, or to the home folder after a leading "~".</summary>
    protected static string PathOf(string text, string folder)
    {
        string path = text.Trim();
        bool isAtHome = path == "~" || path.StartsWith("~/", StringComparison.Ordinal) || path.StartsWith(@"~\", StringComparison.Ordinal);
        return isAtHome
            ? Path.GetFullPath(path[1..].TrimStart('/', '\\'), Environment.GetFolderPath(Environment.SpecialFolder.UserProfile))
            : Path.GetFullPath(path, folder);
    }

    /// <summary>Asks for words to be put into the field and for the keyboard to go there.</summary>
    protected void PutWords(string words) => wanted = words;

    /// <summary>The lines as they are now.</summary>
    public abstract IReadOnlyList<DrawerLine> Lines();

    /// <summary>It has been opened.</summary>
    public virtual void Opened()
    {
    }

    /// <summary>It is closed, or another page is shown.</summary>
    public virtual void Closed()
    {
    }

    /// <summary>The keyboard goes to a line.</summary>
    public void Choose(int line)
    {
        Chosen = line;
        OnChosen(line);
    }

    /// <summary>The lines are others; what was chosen stands elsewhere now.</summary>
    public void Moved(int line) => Chosen = line;

    protected virtual void OnChosen(int line)
    {
    }

    protected static string? Done(Action action)
    {
        action();
        return null;
    }

    /// <summary>"0:12–0:15, 0:31, …": the first few of many.</summary>
    protected static string Times(IReadOnlyList<Analysis.Trouble.TimeRange> ranges)
    {
        const int Told = 4;
        string first = string.Join(", ", ranges.Take(Told).Select(range => range.Seconds < 1.5 ? TimeText.Of(range.StartSeconds) : $"{TimeText.Of(range.StartSeconds)}–{TimeText.Of(range.EndSeconds)}"));
        return ranges.Count > Told ? $"{first} and {ranges.Count - Told} more" : first;
    }

    /// <summary>"+0.3 LU".</summary>
    protected static string Signed(double value, string unit, int digits = 1) =>
        $"{(Math.Round(value, digits) > 0 ? "+" : string.Empty)}{FrequencyText.OfDb(value, unit, digits)}";
}
