namespace LiveStems.Albums.Import;

/// <summary>What the import of a file did to the album.</summary>
public enum ImportChange
{
    /// <summary>The file is new in the album.</summary>
    Added,

    /// <summary>The file has taken the place of an earlier delivery; its digest is the new one, its settings are kept.</summary>
    Revised,

    /// <summary>The file was missing from the album's folder and is back.</summary>
    Restored,

    /// <summary>The file was there already.</summary>
    Unchanged,
}
