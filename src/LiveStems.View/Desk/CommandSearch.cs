namespace LiveStems.View.Desk;

/// <summary>Finds commands by words or beginnings of words, in any order.</summary>
internal static class CommandSearch
{
    public static IReadOnlyList<DeskCommand> Find(IReadOnlyList<DeskCommand> commands, string text)
    {
        string[] wanted = Words(text);
        if (wanted.Length == 0)
        {
            return commands;
        }

        return [.. commands
            .Select((command, index) => (Command: command, Score: Score(command, wanted), Index: index))
            .Where(found => found.Score > 0)
            .OrderByDescending(found => found.Score)
            .ThenBy(found => found.Index)
            .Select(found => found.Command)];
    }

    // Every word must be found somewhere; whole words in the command's own sentence count most.
    private static int Score(DeskCommand command, string[] wanted)
    {
        string[] own = Words(command.Words);
        string[] others = Words($"{command.Group} {command.SearchWords} {command.Id}");
        int sum = 0;
        foreach (string word in wanted)
        {
            int best = Math.Max(2 * Best(own, word), Best(others, word));
            if (best == 0)
            {
                return 0;
            }

            sum += best;
        }

        return sum;
    }

    private static int Best(string[] words, string wanted) => words.Select(word =>
        word == wanted ? 4 : word.StartsWith(wanted, StringComparison.Ordinal) ? 3 : wanted.Length >= 3 && word.Contains(wanted, StringComparison.Ordinal) ? 1 : 0)
        .DefaultIfEmpty(0)
        .Max();

    private static string[] Words(string text) =>
        text.ToLowerInvariant().Split([' ', ',', '.', '-', ':', ';', '(', ')', '/'], StringSplitOptions.RemoveEmptyEntries);
}
