using System.Collections.Immutable;
using LiveStems.Albums.Model;

namespace LiveStems.Albums.Import;

/// <summary>What an import did.</summary>
/// <param name="Album">The album as it has been saved.</param>
/// <param name="Files">Every file that was imported, in the order of the folders.</param>
/// <param name="Skipped">Every file and folder that was left alone.</param>
public sealed record ImportResult(Album Album, ImmutableArray<ImportedFile> Files, ImmutableArray<SkippedFile> Skipped);
