using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.History;

/// <summary>A step in words, for the person who may take it back.</summary>
public static class StepWords
{
    /// <summary>"Bass, equaliser, low-pass frequency: 700 → 650 Hz"; of several differences the first, and how many more there are.</summary>
    public static string Of(Album before, Album after, ProcessorCatalogue catalogue)
    {
        ImmutableArray<AlbumChange> changes = AlbumDifference.Between(before, after, catalogue);
        return changes.Length switch
        {
            0 => "nothing that shows",
            1 => changes[0].Said,
            _ => $"{changes[0].Said}; and {changes.Length - 1} more",
        };
    }
}
