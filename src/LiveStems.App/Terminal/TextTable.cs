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
        int[] widths = [.. headings.Select((heading, column) => rows.Select(row => row[column].Length).Append(heading.Length).Max())];
        bool[] isNumeric = [.. headings.Select((_, column) => rows.Count > 0 && rows.All(row => IsNumber(row[column])))];
        output.WriteLine(Line(headings, widths, isNumeric));
        output.WriteLine(string.Join("  ", widths.Select(width => new string('─', width))));
        foreach (string[] row in rows)
        {
            output.WriteLine(Line(row, widths, isNumeric));
        }
    }

    private static string Line(string[] cells, int[] widths, bool[] isNumeric) =>
        string.Join("  ", cells.Select((cell, column) => isNumeric[column] ? cell.PadLeft(widths[column]) : cell.PadRight(widths[column]))).TrimEnd();

    private static bool IsNumber(string cell) =>
        cell.Length == 0 || char.IsAsciiDigit(cell[0]) || cell[0] is '−' or '+' or '–';
}
