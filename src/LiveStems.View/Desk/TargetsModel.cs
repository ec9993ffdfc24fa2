using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Processing.Contract;

namespace LiveStems.View.Desk;

/// <summary>What masters aim at: loudness, ceiling and least peak-to-loudness ratio of the song that is shown and of the album.</summary>
public sealed class TargetsModel
{
    /// <summary>The kind of the job that sets limiters.</summary>
    public const string JobKind = "target";

    private static readonly AlbumField MostReductionField = new(new ParameterSpec(
        "mostReductionDb", "Limiter at most", ParameterUnit.Decibels, 0.1, 60, 6, Taper.Linear, "Where the limiter would have to take more than this for the target, that is told and nothing is set; not saved with the album."));

    private readonly AlbumDesk desk;

    internal TargetsModel(AlbumDesk desk)
    {
        this.desk = desk;
        Fields = TargetFields.Of(desk);
        MostReduction = ValueField.Optional(
            "target:mostReduction",
            MostReductionField,
            () => MostReductionDb,
            (value, _) =>
            {
                MostReductionDb = value;
                return null;
            },
            () => double.NaN);
    }

    /// <summary>What the song that is shown aims at, its own or the album's.</summary>
    public DeliveryTargets OfSong => desk.Song.Targets ?? desk.Album.Targets;

    /// <summary>True when the song that is shown has targets of its own.</summary>
    public bool AreOwn => desk.Song.Targets is not null;

    /// <summary>Loudness, ceiling and least peak-to-loudness ratio, each of the song and then of the album; setting one of the song's makes them its own.</summary>
    public IReadOnlyList<ValueField> Fields { get; }

    /// <summary>Deepest reduction that the limiter may need for a target in dB; null for any.</summary>
    public double? MostReductionDb { get; private set; }

    /// <summary><see cref="MostReductionDb"/>, to be typed, dragged and turned.</summary>
    public ValueField MostReduction { get; }

    /// <summary>Targets of its own for the song that is shown, beginning with the album's; or the album's again. Null, or what is wrong.</summary>
    public string? ToggleOwn() => desk.EditSong(song => song with { Targets = AreOwn ? null : desk.Album.Targets });

    /// <summary>Sets the limiters of all songs so that their masters meet their targets; can be undone, as one step.</summary>
    public DeskJob MeetAll()
    {
        Album album = desk.Album;
        string folder = desk.Folder;
        double? most = MostReductionDb;
        return desk.Jobs.Start(
            JobKind,
            $"fitting {album.Songs.Length} songs to their targets",
            (progress, cancellation) =>
            {
                List<Song> fitted = [];
                foreach (Song song in album.Songs)
                {
                    ShareWithin share = new(progress, fitted.Count, album.Songs.Length);
                    fitted.Add(TargetLoudness.Meet(song, song.Targets ?? album.Targets, folder, desk.Catalogue, share, cancellation, most));
                }

                return fitted;
            },
            fitted => desk.Edit(now => WithLimiters(album, now, fitted), words: "limiters of all songs to their targets"));
    }

    private static Album WithLimiters(Album before, Album now, List<Song> fitted)
    {
        int?[] places = SongPlaces.After(before, now);
        return Enumerable.Range(0, fitted.Count).Aggregate(now, (album, song) => WithLimiterOf(album, places[song], fitted[song]));
    }

    /// <summary>
    /// The album with the limiter of a song that was fitted to its target. The album may have been changed meanwhile: only the
    /// limiter is taken over, and none where the song or its limiter is gone.
    /// </summary>
    /// <param name="album">The album as it is.</param>
    /// <param name="place">The index that the song has in it; null where it is gone.</param>
    /// <param name="fitted">The song as it was when it was fitted, with its limiter set.</param>
    internal static Album WithLimiterOf(Album album, int? place, Song fitted)
    {
        if (place is not { } song || fitted.Bus.Slots.IsEmpty)
        {
            return album;
        }

        ChainSlot limiter = fitted.Bus.Slots[^1];
        Chain bus = album.Songs[song].Bus;
        int slot = bus.Slots.Select(each => each.Id).ToList().IndexOf(limiter.Id);
        return slot < 0 ? album : album with { Songs = album.Songs.SetItem(song, album.Songs[song] with { Bus = bus with { Slots = bus.Slots.SetItem(slot, limiter) } }) };
    }
}
