namespace LiveStems.Albums.History;

/// <summary>What a difference between two albums is.</summary>
public enum AlbumChangeKind
{
    /// <summary>A value is another.</summary>
    Set,

    /// <summary>Something is new.</summary>
    Added,

    /// <summary>Something is gone.</summary>
    Removed,

    /// <summary>Things stand in another order.</summary>
    Reordered,

    /// <summary>Fields that are kept for other programs differ.</summary>
    Kept,
}
