using System.Diagnostics;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Balance;
using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Delivery;
using LiveStems.Processing.Catalogue;

namespace LiveStems.View.Desk;

/// <summary>
/// The songs in the order of the album: how loud they are, where they stand with the client, how they begin, end and join.
/// </summary>
public sealed class SongsModel
{
    /// <summary>The kind of the job that measures songs.</summary>
    public const string JobKind = "album";

    private const string KnownKind = "known figures";
    private const int LayoutRate = 48_000;
    private const double LookSeconds = 0.5;

    private readonly AlbumDesk desk;
    private readonly Dictionary<string, (SongMeasure Figures, string Digest)> measured = new(StringComparer.Ordinal);
    private readonly HashSet<string> old = new(StringComparer.Ordinal);
    private readonly Stopwatch sinceLook = Stopwatch.StartNew();
    private Task<List<(string Title, string Digest)>>? looking;
    private AlbumBalance? balance;
    private Album? looked;
    private int chosen;

    internal SongsModel(AlbumDesk desk)
    {
        this.desk = desk;
        Edges = SongEdgeFields.Of(desk, () => Chosen);
    }

    /// <summary>Counts up whenever figures are others or another song is chosen.</summary>
    public long Revision { get; private set; }

    /// <summary>The song whose edges are shown, by its place in the album.</summary>
    public int Chosen
    {
        get => Math.Min(chosen, desk.Album.Songs.Length - 1);
        set
        {
            chosen = Math.Clamp(value, 0, desk.Album.Songs.Length - 1);
            Revision++;
        }
    }

    /// <summary>Gap, cross-fade, cuts and fades of the chosen song.</summary>
    public IReadOnlyList<ValueField> Edges { get; }

    /// <summary>What the master of a song measured; null before it was measured.</summary>
    public SongMeasure? Of(int song) => measured.TryGetValue(desk.Album.Songs[song].Title, out (SongMeasure Figures, string Digest) found) ? found.Figures : null;

    /// <summary>True when the song's sound has been changed since it was measured.</summary>
    public bool IsOld(int song) => old.Contains(desk.Album.Songs[song].Title);

    /// <summary>Sentences about how a song stands beside the others; none before all were measured.</summary>
    public IReadOnlyList<string> Advice(int song)
    {
        Song now = desk.Album.Songs[song];
        return balance is { } held && held.Songs.FirstOrDefault(each => each.Title == now.Title) is { } figures
            ? BalanceAdvice.For(held, figures, now.Targets ?? desk.Album.Targets)
            : [];
    }

    /// <summary>Where each song starts and ends on the album in seconds; empty until every length is known, or with why it cannot be.</summary>
    public (IReadOnlyList<(double Start, double End)> Places, string? Fault) Layout()
    {
        List<(string, long, SongEdges)> songs = [];
        for (int i = 0; i < desk.Album.Songs.Length; i++)
        {
            if (Of(i) is not { } figures)
            {
                return ([], null);
            }

            SongEdges edges = desk.Album.Songs[i].Edges;
            songs.Add((desk.Album.Songs[i].Title, (long)(Math.Max(0, figures.Seconds - edges.TrimStartSeconds - edges.TrimEndSeconds) * LayoutRate), edges));
        }

        try
        {
            return ([.. AlbumLayout.Place(songs, LayoutRate).Select(placed => ((double)placed.Start / LayoutRate, (double)placed.End / LayoutRate))], null);
        }
        catch (DeliveryException fault)
        {
            return ([], fault.Message);
        }
    }

    /// <summary>Measures the masters of all songs; what was rendered before is not rendered again.</summary>
    public DeskJob Measure()
    {
        Album album = desk.Album;
        string folder = desk.Folder;
        return desk.Jobs.Start(
            JobKind,
            "measuring the songs",
            (progress, cancellation) =>
            {
                AlbumBalance found = AlbumBalance.Measure(album, folder, [.. Enumerable.Range(0, album.Songs.Length)], desk.Catalogue, 1, progress.Report, cancellation);
                List<(string, string, SongMeasure)> figures = [];
                for (int i = 0; i < album.Songs.Length; i++)
                {
                    string digest = DigestOf(album.Songs[i], folder, desk.Catalogue);
                    SongMeasure measure = new(found.Songs[i].Seconds, found.Songs[i].Loudness);
                    SongFiguresStore.Save(digest, measure);
                    figures.Add((album.Songs[i].Title, digest, measure));
                }

                return (Balance: found, Figures: figures);
            },
            found =>
            {
                balance = found.Balance;
                Take(album, found.Figures);
                desk.Say(MessageKind.Remark, $"{found.Figures.Count} songs measured");
            });
    }

    /// <summary>Takes up what was measured in earlier runs and still holds.</summary>
    public DeskJob Recall()
    {
        Album album = desk.Album;
        string folder = desk.Folder;
        return desk.Jobs.Start(
            KnownKind,
            "looking up what was measured",
            (_, cancellation) =>
            {
                List<(string, string, SongMeasure)> known = [];
                foreach (Song song in album.Songs)
                {
                    cancellation.ThrowIfCancellationRequested();
                    string digest = DigestOf(song, folder, desk.Catalogue);
                    if (SongFiguresStore.Load(digest) is { } kept)
                    {
                        known.Add((song.Title, digest, kept));
                    }
                }

                return known;
            },
            known => Take(album, known));
    }

    /// <summary>Moves a song to another place in the album; the song that is shown stays shown. Null, or what is wrong.</summary>
    public string? Move(int song, int to)
    {
        if (song < 0 || song >= desk.Album.Songs.Length || to < 0 || to >= desk.Album.Songs.Length || to == song)
        {
            return null;
        }

        Song moved = desk.Album.Songs[song];
        string? fault = desk.MoveSong(song, to, $"{moved.Title}, to place {to + 1}");
        if (fault is null)
        {
            Chosen = to;
        }

        return fault;
    }

    /// <summary>Takes a song out of the album; its files stay where they are. Null, or what is wrong.</summary>
    public string? Remove(int song)
    {
        if (desk.Album.Songs.Length == 1)
        {
            return desk.Refuse("the window needs a song: import another one before this one goes");
        }

        string? fault = desk.Edit(album => album with { Songs = album.Songs.RemoveAt(song) });
        Revision++;
        return fault;
    }

    /// <summary>Says where a song stands with the client. Null, or what is wrong.</summary>
    public string? SetState(int song, SongState state) => desk.Edit(
        album => album.Songs[song].State == state ? album : album with { Songs = album.Songs.SetItem(song, album.Songs[song] with { State = state }) });

    /// <summary>How a song begins, ends and joins, in words.</summary>
    public string EdgesInWords(int song) => EdgeWords.Of(desk.Album.Songs[song].Edges);

    /// <summary>Songs stand elsewhere: the chosen one stays chosen.</summary>
    /// <param name="places">For every song as they stood its index now; null for one that is gone.</param>
    internal void Follow(int?[] places)
    {
        if (chosen < places.Length && places[chosen] is { } place)
        {
            Chosen = place;
        }
    }

    /// <summary>Looks whether songs still sound as they did when they were measured; now and then, and not on the desk's thread.</summary>
    internal void Update()
    {
        if (looking is { IsCompleted: true } found)
        {
            looking = null;
            TakeLook(found.IsCompletedSuccessfully ? found.Result : []);
        }

        if (looking is not null || sinceLook.Elapsed.TotalSeconds < LookSeconds || ReferenceEquals(looked, desk.Album))
        {
            return;
        }

        sinceLook.Restart();
        Album before = looked ?? desk.Album;
        looked = desk.Album;
        Song[] changed = [.. desk.Album.Songs.Where(song => !before.Songs.Contains(song) && measured.ContainsKey(song.Title))];
        if (changed.Length > 0)
        {
            string folder = desk.Folder;
            ProcessorCatalogue catalogue = desk.Catalogue;
            looking = desk.Jobs.Beside(() => changed.Select(song => (song.Title, DigestOf(song, folder, catalogue))).ToList());
        }
    }

    private static string DigestOf(Song song, string folder, ProcessorCatalogue catalogue) => SettingsDigest.Of(song, folder, catalogue);

    private void TakeLook(List<(string Title, string Digest)> found)
    {
        foreach ((string title, string digest) in found)
        {
            bool isOld = measured.TryGetValue(title, out (SongMeasure Figures, string Digest) known) && known.Digest != digest;
            Revision += (isOld ? old.Add(title) : old.Remove(title)) ? 1 : 0;
        }
    }

    // Songs may have been changed while they were measured; whether that is heard, the next look says.
    private void Take(Album asMeasured, List<(string Title, string Digest, SongMeasure Figures)> found)
    {
        foreach ((string title, string digest, SongMeasure figures) in found)
        {
            measured[title] = (figures, digest);
            _ = desk.Album.Songs.Any(song => song.Title == title && asMeasured.Songs.Contains(song)) ? old.Remove(title) : old.Add(title);
        }

        looked = asMeasured;
        Revision++;
    }
}
