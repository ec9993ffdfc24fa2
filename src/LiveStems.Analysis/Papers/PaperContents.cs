using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Balance;
using LiveStems.Analysis.Delivery;
using LiveStems.Analysis.Headroom;
using LiveStems.Analysis.Intake;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Papers;

/// <summary>All that an album's paper tells.</summary>
/// <param name="Album">The album as it is.</param>
/// <param name="Balance">Its songs measured, all of them in album order.</param>
/// <param name="Catalogue">Knows the processors.</param>
/// <param name="Date">The day told.</param>
public sealed record PaperContents(Album Album, AlbumBalance Balance, ProcessorCatalogue Catalogue, DateOnly Date)
{
    /// <summary>Headroom accounts, of the songs that have one.</summary>
    public IReadOnlyList<HeadroomReport> Accounts { get; init; } = [];

    /// <summary>What the intake check found; null when it was left out.</summary>
    public IntakeReport? Intake { get; init; }

    /// <summary>The last delivery and its files; null when there was none.</summary>
    public (LoggedDelivery Delivery, IReadOnlyList<ManifestFile> Files)? LastDelivery { get; init; }

    /// <summary>What should be known of the last delivery: what its manifest remarks, or why its files can't be listed.</summary>
    public IReadOnlyList<string> DeliveryRemarks { get; init; } = [];

    /// <summary>What is other now than at the last delivery.</summary>
    public IReadOnlyList<AlbumChange> Changes { get; init; } = [];

    /// <summary>Names of the versions that were kept, with the day each was taken.</summary>
    public IReadOnlyList<string> Versions { get; init; } = [];

    /// <summary>True when notes are told, too.</summary>
    public bool HasNotes { get; init; }
}
