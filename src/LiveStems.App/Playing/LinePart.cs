using LiveStems.App.Terminal;

namespace LiveStems.App.Playing;

/// <summary>A part of a line that can be said in fewer words where there is no room.</summary>
/// <param name="Text">All of it.</param>
/// <param name="Steps">Ways to say it shorter.</param>
internal sealed record LinePart(string Text, params LinePart.Step[] Steps)
{
    private const string Between = "  ";

    /// <summary>A way to say a part in fewer words.</summary>
    /// <param name="Turn">Steps of the whole line are taken in the order of these.</param>
    /// <param name="Shorten">The shorter text, from the columns that are too many.</param>
    internal readonly record struct Step(Turn Turn, Func<int, string> Shorten);

    /// <summary>A step to a fixed text.</summary>
    public static Step To(Turn turn, string shorter) => new(turn, _ => shorter);

    /// <summary>A step that cuts a name as far as needed, to so many columns at least; what stands behind it stays.</summary>
    public static Step Cut(Turn turn, string name, string behind, int leastColumns) => new(
        turn,
        excess => TextColumns.Cut(name, Math.Max(leastColumns, TextColumns.Of(name) - excess)) + behind);

    /// <summary>The parts in one line that takes no more columns than there are.</summary>
    public static string Join(IReadOnlyList<LinePart> parts, int columns)
    {
        string[] shown = [.. parts.Select(part => part.Text)];
        int excess = Columns(shown) - columns;
        var steps = parts.SelectMany((part, index) => part.Steps.Select(step => (step, index))).OrderBy(pair => pair.step.Turn);
        foreach ((Step step, int index) in steps)
        {
            if (excess <= 0)
            {
                break;
            }

            shown[index] = step.Shorten(excess);
            excess = Columns(shown) - columns;
        }

        return TextColumns.Cut(string.Join(Between, shown.Where(text => text.Length > 0)), columns);
    }

    private static int Columns(string[] shown)
    {
        int columns = -Between.Length;
        foreach (string text in shown)
        {
            columns += text.Length > 0 ? TextColumns.Of(text) + Between.Length : 0;
        }

        return columns;
    }
}

/// <summary>What of the line gives way first where it is too long.</summary>
internal enum Turn
{
    /// <summary>What is good to know.</summary>
    Extras,

    /// <summary>The name of the song.</summary>
    Song,

    /// <summary>Figures since the start.</summary>
    Past,

    /// <summary>Explanations of how it is listened.</summary>
    Listening,

    /// <summary>Length of the song, second channel of the level.</summary>
    Detail,

    /// <summary>Units that go without saying.</summary>
    Units,

    /// <summary>Words of warnings behind their first.</summary>
    Warnings,

    /// <summary>The name of the stem.</summary>
    Stem,

    /// <summary>Everything but place, levels, load and warnings.</summary>
    Rest,

    /// <summary>The slower of two measures of loudness.</summary>
    Levels,
}
