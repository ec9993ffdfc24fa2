namespace LiveStems.Albums.Editing;

/// <summary>Things of one kind under a node.</summary>
/// <param name="Kind">What one is called in messages: "song".</param>
/// <param name="Prefix">What stands before the name in an address: "parallel:", or nothing.</param>
/// <param name="Names">Their names, in order.</param>
/// <param name="Open">The node of one of them, by index.</param>
internal sealed record AddressGroup(string Kind, string Prefix, IReadOnlyList<string> Names, Func<int, AddressNode> Open)
{
    /// <summary>True when neither numbers nor beginnings of names are taken.</summary>
    public bool WholeNameOnly { get; init; }

    /// <summary>What one of them is called in a sentence.</summary>
    public string Words(int index) => WholeNameOnly ? Kind : Prefix.Length > 0 ? $"{Kind} {Names[index]}" : Names[index];

    /// <summary>What is written in an address for one of them.</summary>
    public string Label(int index) => Prefix + Names[index];
}
