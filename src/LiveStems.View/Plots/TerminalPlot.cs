using System.Text;

namespace LiveStems.View.Plots;

/// <summary>A curve over frequency or level, drawn with characters for a terminal.</summary>
public static class TerminalPlot
{
    private const int Columns = 64;
    private const int Rows = 13;
    private const int LabelWidth = 7;

    /// <summary>Draws gain in decibels over a logarithmic frequency axis; the gain axis fits the curve.</summary>
    public static string Response(IReadOnlyList<(double FrequencyHz, double GainDb)> curve)
    {
        LogFrequencyAxis axis = LogFrequencyAxis.Audible;
        string marks = Marks(axis.Marks().Select(mark => (axis.ToPosition(mark), LogFrequencyAxis.Label(mark))));
        return Draw([.. curve.Select(point => (axis.ToPosition(point.FrequencyHz), Math.Max(point.GainDb, -90)))], marks + "  Hz");
    }

    /// <summary>Draws output level over input level, both in dBFS.</summary>
    public static string Levels(IReadOnlyList<(double InputDbfs, double OutputDbfs)> curve)
    {
        double lowest = curve.Min(point => point.InputDbfs);
        double highest = curve.Max(point => point.InputDbfs);
        double Position(double level) => (level - lowest) / (highest - lowest);
        IEnumerable<double> levels = Enumerable.Range(0, 5).Select(i => lowest + (highest - lowest) * i / 4);
        string marks = Marks(levels.Select(level => (Position(level), $"{level:0}")));
        return Draw([.. curve.Select(point => (Position(point.InputDbfs), Math.Max(point.OutputDbfs, -120)))], marks + "  dBFS in");
    }

    private static string Draw((double Position, double Value)[] curve, string marks)
    {
        double low = Math.Floor(curve.Min(point => point.Value) / 3) * 3;
        double high = Math.Ceiling(curve.Max(point => point.Value) / 3) * 3;
        if (high - low < 6)
        {
            high += 3;
            low -= 3;
        }

        char[][] cells = [.. Enumerable.Range(0, Rows).Select(_ => Enumerable.Repeat(' ', Columns).ToArray())];
        int previous = -1;
        for (int column = 0; column < Columns; column++)
        {
            double value = Interpolate(curve, column / (Columns - 1.0));
            int row = (int)Math.Round((high - value) / (high - low) * (Rows - 1));
            for (int between = Math.Min(row, previous < 0 ? row : previous); between <= Math.Max(row, previous); between++)
            {
                cells[between][column] = '│';
            }

            cells[row][column] = '━';
            previous = row;
        }

        StringBuilder text = new();
        for (int row = 0; row < Rows; row++)
        {
            string label = row % 3 == 0 ? $"{high - (high - low) * row / (Rows - 1):0.#}" : string.Empty;
            text.Append(label.PadLeft(LabelWidth)).Append(" ┤").AppendLine(new string(cells[row]).TrimEnd());
        }

        return text.Append(new string(' ', LabelWidth + 2)).AppendLine(marks).ToString();
    }

    private static double Interpolate((double Position, double Value)[] curve, double position)
    {
        int after = Array.FindIndex(curve, point => point.Position >= position);
        if (after <= 0)
        {
            return after == 0 ? curve[0].Value : curve[^1].Value;
        }

        (double Position, double Value) left = curve[after - 1];
        (double Position, double Value) right = curve[after];
        return left.Value + (right.Value - left.Value) * (position - left.Position) / (right.Position - left.Position);
    }

    private static string Marks(IEnumerable<(double Position, string Label)> marks)
    {
        char[] line = Enumerable.Repeat(' ', Columns + 4).ToArray();
        foreach ((double position, string label) in marks)
        {
            label.CopyTo(0, line, (int)Math.Round(position * (Columns - 1)), label.Length);
        }

        return new string(line).TrimEnd();
    }
}
