namespace LiveStems.Albums.Editing;

/// <summary>What somebody who mistyped a name may have meant.</summary>
internal static class NearMatch
{
    /// <summary>"; did you mean thresholdDb?", or nothing when no candidate is near.</summary>
    public static string Hint(string written, IEnumerable<string> candidates)
    {
        string? best = null;
        int fewest = Tolerance(written) + 1;
        foreach (string candidate in candidates)
        {
            int edits = Edits(written.ToLowerInvariant(), candidate.ToLowerInvariant());
            if (edits < fewest)
            {
                best = candidate;
                fewest = edits;
            }
        }

        return best is null ? string.Empty : $"; did you mean {best}?";
    }

    private static int Tolerance(string written) => Math.Max(1, written.Length / 3);

    /// <summary>
    /// Letters inserted, left out, replaced or swapped with their neighbour (Damerau 1964, Levenshtein 1966). What the
    /// candidate has beyond the written word costs one edit in all, so that a forgotten unit is near.
    /// </summary>
    private static int Edits(string written, string candidate)
    {
        int[,] edits = new int[written.Length + 1, candidate.Length + 1];
        for (int row = 0; row <= written.Length; row++)
        {
            for (int column = 0; column <= candidate.Length; column++)
            {
                edits[row, column] = row == 0 || column == 0 ? row + column : Step(edits, written, candidate, row, column);
            }
        }

        int fewest = edits[written.Length, candidate.Length];
        for (int column = 1; column < candidate.Length; column++)
        {
            fewest = Math.Min(fewest, edits[written.Length, column] + 1);
        }

        return fewest;
    }

    private static int Step(int[,] edits, string written, string candidate, int row, int column)
    {
        int replaced = edits[row - 1, column - 1] + (written[row - 1] == candidate[column - 1] ? 0 : 1);
        int least = Math.Min(replaced, 1 + Math.Min(edits[row - 1, column], edits[row, column - 1]));
        bool swapped = row > 1 && column > 1 && written[row - 1] == candidate[column - 2] && written[row - 2] == candidate[column - 1];
        return swapped ? Math.Min(least, edits[row - 2, column - 2] + 1) : least;
    }
}
