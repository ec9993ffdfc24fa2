using LiveStems.Albums.Model;

namespace LiveStems.Analysis.Delivery;

/// <summary>One file of a delivery.</summary>
/// <param name="Name">Path inside the delivery, with '/'.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Song">Place of its song in the album, from 0; −1 for the album as one file.</param>
/// <param name="Variant">Id of its format, alternate, or name of its stem.</param>
/// <param name="Title">What it says that it is.</param>
/// <param name="Format">Its form.</param>
/// <param name="CeilingDbtp">Highest true peak it may have, or null where none was promised.</param>
internal sealed record FileOrder(string Name, DeliveredKind Kind, int Song, string Variant, string Title, DeliveryFormat Format, double? CeilingDbtp)
{
    /// <summary>Makes its sound as a float file.</summary>
    public required Func<string> Make { get; init; }

    /// <summary>Of an alternate: makes the main version at the same rate.</summary>
    public Func<string>? Main { get; init; }

    /// <summary>What a master should be like; null where nothing was promised.</summary>
    public DeliveryTargets? Targets { get; init; }

    /// <summary>What helps where the peak lies above the ceiling; null for the usual advice.</summary>
    public string? CeilingAdvice { get; init; }
}
