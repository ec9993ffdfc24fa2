using LiveStems.Albums.Model;

namespace LiveStems.View.Desk;

/// <summary>What the master of the shown song and those of the album aim at, as values that are typed, dragged, turned and undone.</summary>
internal static class TargetFields
{
    /// <summary>Loudness, ceiling and least peak-to-loudness ratio, each of the song and then of the album.</summary>
    public static IReadOnlyList<ValueField> Of(AlbumDesk desk)
    {
        Owner song = new(
            "Song",
            () => desk.Targets.OfSong,
            (targets, gesture) => desk.EditSong(now => now with { Targets = targets }, gesture is null ? null : $"{gesture}:{desk.SongIndex}"),
            // What is not the song's own is the album's.
            () => desk.Album.Targets);
        Owner album = new(
            "Album",
            () => desk.Album.Targets,
            (targets, gesture) => desk.Edit(now => now with { Targets = targets }, gesture),
            () => DeliveryTargets.Usual);
        return [Loudness(song), Loudness(album), Ceiling(song), Ceiling(album), Ratio(song), Ratio(album)];
    }

    private static ValueField Loudness(Owner owner) => ValueField.Optional(
        owner.Id(AlbumFields.IntegratedLufs),
        owner.Named(AlbumFields.IntegratedLufs, "loudness"),
        () => owner.Read().IntegratedLufs,
        (value, gesture) => owner.Write(owner.Read() with { IntegratedLufs = value }, gesture),
        () => owner.AtFirst().IntegratedLufs ?? double.NaN);

    private static ValueField Ceiling(Owner owner) => new(
        owner.Id(AlbumFields.CeilingDbtp),
        owner.Named(AlbumFields.CeilingDbtp, "ceiling"),
        () => owner.Read().CeilingDbtp,
        (value, gesture) => owner.Write(owner.Read() with { CeilingDbtp = value }, gesture)) { ResetValue = () => owner.AtFirst().CeilingDbtp };

    private static ValueField Ratio(Owner owner) => ValueField.Optional(
        owner.Id(AlbumFields.LeastPeakToLoudnessLu),
        owner.Named(AlbumFields.LeastPeakToLoudnessLu, "PLR ≥"),
        () => owner.Read().LeastPeakToLoudnessLu,
        (value, gesture) => owner.Write(owner.Read() with { LeastPeakToLoudnessLu = value }, gesture),
        () => owner.AtFirst().LeastPeakToLoudnessLu ?? double.NaN);

    // Whose targets they are, and how they are read, written and set back.
    private sealed record Owner(string Name, Func<DeliveryTargets> Read, Func<DeliveryTargets, string?, string?> Write, Func<DeliveryTargets> AtFirst)
    {
        public string Id(AlbumField field) => $"target:{Name}:{field.Spec.Id}";

        // The whole name is too long for a column; the sentence in the tip says it all.
        public AlbumField Named(AlbumField field, string name) => field with { Spec = field.Spec with { Name = $"{Name} {name}" } };
    }
}
