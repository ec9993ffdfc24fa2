namespace LiveStems.View.Desk;

/// <summary>All commands; the window adds its own.</summary>
public sealed class CommandList
{
    private readonly List<DeskCommand> commands = [];
    private readonly Dictionary<KeyChord, DeskCommand> byKey = [];

    /// <summary>All commands, by groups in the order they were added.</summary>
    public IReadOnlyList<DeskCommand> All => commands;

    /// <summary>Adds a command.</summary>
    /// <exception cref="ArgumentException">Its name or one of its keys is taken.</exception>
    public void Add(DeskCommand command)
    {
        if (commands.Exists(other => other.Id == command.Id))
        {
            throw new ArgumentException($"there are two commands '{command.Id}'", nameof(command));
        }

        foreach (KeyChord key in command.Keys)
        {
            if (!byKey.TryAdd(key, command))
            {
                throw new ArgumentException($"{key} is '{byKey[key].Id}' already, and cannot be '{command.Id}'", nameof(command));
            }
        }

        commands.Add(command);
    }

    /// <summary>Adds a command with keys as text, parted by spaces only where several do the same: "Ctrl+Y|Ctrl+Shift+Z".</summary>
    public void Add(string id, string group, string words, string keys, Func<string?> run, string searchWords = "") => Add(new DeskCommand(
        id, group, words, [.. keys.Split('|', StringSplitOptions.RemoveEmptyEntries).Select(KeyChord.Parse)], run) { SearchWords = searchWords });

    /// <summary>Adds a command that always can be done.</summary>
    public void Add(string id, string group, string words, string keys, Action run, string searchWords = "") => Add(
        id,
        group,
        words,
        keys,
        () =>
        {
            run();
            return null;
        },
        searchWords);

    /// <summary>Takes commands out of the list, and lets go of their keys.</summary>
    internal void RemoveAll(Predicate<DeskCommand> isMeant)
    {
        foreach (KeyChord key in commands.FindAll(isMeant).SelectMany(command => command.Keys))
        {
            byKey.Remove(key);
        }

        commands.RemoveAll(isMeant);
    }

    /// <summary>The command of a key, or null.</summary>
    public DeskCommand? Find(KeyChord key) => byKey.GetValueOrDefault(key);

    /// <summary>The command of a name, or null.</summary>
    public DeskCommand? Find(string id) => commands.Find(command => command.Id == id);

    /// <summary>Does what a key stands for; false when it stands for nothing that can be done now.</summary>
    public bool Press(KeyChord key, out string? fault)
    {
        fault = null;
        if (Find(key) is not { } command || !command.CanRun())
        {
            return false;
        }

        fault = command.Run();
        return true;
    }

    /// <summary>Commands that fit what a person typed, the best first; all of them for nothing typed.</summary>
    public IReadOnlyList<DeskCommand> Search(string text) => CommandSearch.Find(commands, text);
}
