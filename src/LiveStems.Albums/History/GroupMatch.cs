using LiveStems.Albums.Editing;

namespace LiveStems.Albums.History;

/// <summary>Which things of a kind are the same in two albums: those of one name, then those made of the same.</summary>
internal sealed class GroupMatch
{
    private readonly AddressGroup before;
    private readonly AddressGroup after;
    private readonly int?[] was;
    private readonly HashSet<int> taken = [];

    private GroupMatch(AddressGroup before, AddressGroup after)
    {
        this.before = before;
        this.after = after;
        was = new int?[after.Names.Count];
    }

    /// <summary>Indices in the earlier album of what is gone.</summary>
    public IEnumerable<int> Removed => Enumerable.Range(0, before.Names.Count).Where(index => !taken.Contains(index));

    /// <summary>For everything in the later album its index in the earlier one, or null when it is new, and its index.</summary>
    public IEnumerable<(int? Was, int Now)> Present => was.Select((index, now) => (index, now));

    /// <summary>True when what is in both stands in another order.</summary>
    public bool IsReordered => !Common.SequenceEqual(Common.Order());

    /// <summary>The names of what is in both, in the earlier order.</summary>
    public string NamesBefore => string.Join(", ", Common.Order().Select(index => before.Names[index]));

    /// <summary>The names of what is in both, in the later order.</summary>
    public string NamesAfter => string.Join(", ", Common.Select(index => before.Names[index]));

    private IEnumerable<int> Common => was.OfType<int>();

    public static GroupMatch Of(AddressGroup before, AddressGroup after)
    {
        GroupMatch match = new(before, after);
        match.Pair((old, now) => before.Names[old] == after.Names[now]);
        match.Pair((old, now) => before.Open(old).Identity is { Length: > 0 } identity && identity == after.Open(now).Identity);
        return match;
    }

    private void Pair(Func<int, int, bool> same)
    {
        for (int now = 0; now < was.Length; now++)
        {
            for (int old = 0; old < before.Names.Count && was[now] is null; old++)
            {
                if (!taken.Contains(old) && same(old, now))
                {
                    was[now] = old;
                    taken.Add(old);
                }
            }
        }
    }
}
