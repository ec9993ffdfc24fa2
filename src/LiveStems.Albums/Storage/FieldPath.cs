namespace LiveStems.Albums.Storage;

/// <summary>A place in the album file; spelt out only when a fault is reported there.</summary>
internal sealed class FieldPath
{
    private readonly FieldPath? parent;
    private readonly string name;
    private readonly int index;

    private FieldPath(FieldPath? parent, string name, int index)
    {
        this.parent = parent;
        this.name = name;
        this.index = index;
    }

    public static FieldPath Root { get; } = new(null, string.Empty, 0);

    private bool IsItem => index >= 0;

    public FieldPath Field(string field) => new(this, field, -1);

    public FieldPath Item(int position) => new(this, string.Empty, position);

    public override string ToString()
    {
        if (parent is null)
        {
            return string.Empty;
        }

        string before = parent.ToString();
        return IsItem ? $"{before}[{index}]" : before.Length == 0 ? name : $"{before}.{name}";
    }
}
