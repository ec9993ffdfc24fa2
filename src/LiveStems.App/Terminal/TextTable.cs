namespace LiveStems.App.Terminal;

/// <summary>A plain table: a heading, a rule, rows; columns of numbers are set to the right.</summary>
internal sealed class TextTable(params string[] headings)
{
    private readonly List<string[]> rows = [];

    /// <summary>Adds a row with a cell for every heading.</summary>
    public void Add(params string[] cells) => rows.Add(cells);

    /// <summary>Writes the table.</summary>
    public void WriteTo(TextWriter output)
    {
        int[] widths = new int[headings.Length];
        bool[] isNumeric = new bool[headings.Length];
        string[] rules = new string[headings.Length];
        for (int column = 0; column < headings.Length; column++)
        {
            widths[column] = TextColumns.Of(headings[column]);
            isNumeric[column] = rows.Count > 0;
            foreach (string[] row in rows)
            {
                widths[column] = Math.Max(widths[column], TextColumns.Of(row[column]));
                isNumeric[column] &= IsNumber(row[column]);
            }

            rules[column] = new string('─', widths[column]);
        }

        output.WriteLine(Line(headings, widths, isNumeric));
        output.WriteLine(string.Join("  ", rules));
        foreach (string[] row in rows)
        {
            output.WriteLine(Line(row, widths, isNumeric));
        }
    }

    private static string Line(string[] cells, int[] widths, bool[] isNumeric) =>
        string.Join("  ", cells.Select((cell, column) => Filled(cell, widths[column], isNumeric[column]))).TrimEnd();

    private static string Filled(string cell, int columns, bool toTheRight)
    {
        string space = new(' ', columns - TextColumns.Of(cell));
        return toTheRight ? space + cell : cell + space;
    }

    private static bool IsNumber(string cell) =>
        cell.Length == 0 || char.IsAsciiDigit(cell[0]) || cell[0] is '−' or '+' or '–';
}
