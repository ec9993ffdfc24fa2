namespace LiveStems.Albums.Editing;

/// <summary>
/// Follows an address through the tree. Whole names win, the longest first, so that names may hold '/' and '.'; then
/// numbers and beginnings of names.
/// </summary>
internal static class AddressWalk
{
    /// <summary>Where an address leads.</summary>
    /// <param name="root">The album.</param>
    /// <param name="address">Names parted by '/', then a field behind a dot.</param>
    /// <returns>The node, and the name of the field behind it or null when the address ends at the node.</returns>
    public static (AddressNode Node, string? Field) Follow(AddressNode root, string address)
    {
        string rest = address.Trim();
        AddressNode node = root;
        if (rest.Length == 0 || IsField(root, rest))
        {
            return (root, rest.Length == 0 ? null : rest);
        }

        while (true)
        {
            (node, rest) = Step(node, rest);
            if (rest.Length == 0)
            {
                return (node, null);
            }

            string behind = rest[1..].Trim();
            if (rest[0] == '.')
            {
                return (node, behind);
            }

            rest = behind;
        }
    }

    private static bool IsField(AddressNode node, string name) =>
        node.Fields.Any(field => field.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    private static (AddressNode Node, string Behind) Step(AddressNode node, string rest)
    {
        if (WholeName(node, rest) is { } found)
        {
            return (found.Group.Open(found.Index), rest[found.Group.Label(found.Index).Length..]);
        }

        int end = rest.IndexOf('/');
        end = end >= 0 ? end : rest.IndexOf('.');
        string segment = end >= 0 ? rest[..end] : rest;
        return (Open(node, segment.Trim()), rest[segment.Length..]);
    }

    private static (AddressGroup Group, int Index)? WholeName(AddressNode node, string rest)
    {
        (AddressGroup Group, int Index)? longest = null;
        int length = 0;
        foreach (AddressGroup group in node.Groups)
        {
            for (int i = 0; i < group.Names.Count; i++)
            {
                string label = group.Label(i);
                if (label.Length > length && IsWhole(rest, label))
                {
                    longest = (group, i);
                    length = label.Length;
                }
            }
        }

        return longest;
    }

    private static bool IsWhole(string rest, string label) =>
        rest.StartsWith(label, StringComparison.OrdinalIgnoreCase) && (rest.Length == label.Length || rest[label.Length] is '/' or '.');

    private static AddressNode Open(AddressNode node, string segment)
    {
        AddressGroup[] groups = [.. node.Groups.Where(group => !group.WholeNameOnly)];
        AddressGroup? group = groups.FirstOrDefault(each => each.Prefix.Length > 0 && segment.StartsWith(each.Prefix, StringComparison.OrdinalIgnoreCase))
            ?? groups.FirstOrDefault(each => each.Prefix.Length == 0);
        if (group is null)
        {
            throw new AlbumException($"{node.Address} ends here; '{segment}' cannot follow behind '/', a {node.FieldKind} follows behind '.'");
        }

        string where = node.Address.Length == 0 ? string.Empty : $"{node.Address}: ";
        try
        {
            return group.Open(NameSearch.Find(group.Kind, group.Names, segment[group.Prefix.Length..]));
        }
        catch (AlbumException fault)
        {
            throw new AlbumException(where + fault.Message, fault);
        }
    }
}
