using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;

namespace LiveStems.Albums.Import;

/// <summary>Finds stems that are not where the album says, by what they hold.</summary>
public static class MovedStems
{
    /// <summary>
    /// The album with every missing stem whose digest a sound file of the album's folder has linked to that file. Files of
    /// the same name are tried first; reading ends when all are found.
    /// </summary>
    /// <returns>The album, and what was found; the album is the same when nothing was.</returns>
    /// <exception cref="AlbumException">The album's folder cannot be read.</exception>
    /// <exception cref="OperationCanceledException">The search was cancelled.</exception>
    public static (Album Album, ImmutableArray<MovedStem> Found) Find(
        Album album, string albumFolder, IProgress<ImportProgress>? progress = null, CancellationToken cancel = default)
    {
        HashSet<string> wanted = Missing(album, albumFolder).Select(stem => stem.Sha256).ToHashSet(StringComparer.Ordinal);
        if (wanted.Count == 0)
        {
            return (album, []);
        }

        try
        {
            Dictionary<string, string> places = Search(album, albumFolder, wanted, progress, cancel);
            return Linked(album, albumFolder, places);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{albumFolder}: moved stems could not be looked for: {fault.Message}", fault);
        }
    }

    private static IEnumerable<Stem> Missing(Album album, string albumFolder) => album.Songs
        .SelectMany(song => song.Stems)
        .Where(stem => IsMissing(stem, albumFolder));

    private static bool IsMissing(Stem stem, string albumFolder) =>
        stem.Sha256.Length > 0 && !File.Exists(AlbumPath.OnDisk(albumFolder, stem.File));

    private static Dictionary<string, string> Search(
        Album album, string albumFolder, HashSet<string> wanted, IProgress<ImportProgress>? progress, CancellationToken cancel)
    {
        HashSet<string> linked = album.Songs.SelectMany(song => song.Stems).Select(stem => stem.File).ToHashSet(StringComparer.Ordinal);
        HashSet<string> names = Missing(album, albumFolder).Select(stem => Path.GetFileName(stem.File)).ToHashSet(StringComparer.OrdinalIgnoreCase);
        EnumerationOptions everywhere = new() { RecurseSubdirectories = true };
        List<string> candidates = [.. Directory.EnumerateFiles(albumFolder, "*", everywhere)
            .Select(file => AlbumPath.FromDisk(albumFolder, file)!)
            .Where(path => SoundFiles.IsSound(path) && !linked.Contains(path) && AlbumPath.FaultOf(path) is null)
            .OrderBy(path => names.Contains(Path.GetFileName(path)) ? 0 : 1)
            .ThenBy(path => path, NaturalOrder.Comparer)];
        ReadingProgress reading = new(progress, candidates.Sum(path => new FileInfo(AlbumPath.OnDisk(albumFolder, path)).Length));
        Dictionary<string, string> places = new(StringComparer.Ordinal);
        foreach (string path in candidates.TakeWhile(_ => places.Count < wanted.Count))
        {
            string digest = Digest.Of(AlbumPath.OnDisk(albumFolder, path), null, reading.Add, cancel);
            if (wanted.Contains(digest))
            {
                places.TryAdd(digest, path);
            }
        }

        return places;
    }

    private static (Album Album, ImmutableArray<MovedStem> Found) Linked(Album album, string albumFolder, Dictionary<string, string> places)
    {
        ImmutableArray<MovedStem>.Builder found = ImmutableArray.CreateBuilder<MovedStem>();
        ImmutableArray<Song> songs = [.. album.Songs.Select(song => song with { Stems = [.. song.Stems.Select(stem => Link(song, stem))] })];
        return (found.Count == 0 ? album : album with { Songs = songs }, found.ToImmutable());

        Stem Link(Song song, Stem stem)
        {
            if (!IsMissing(stem, albumFolder) || !places.TryGetValue(stem.Sha256, out string? place))
            {
                return stem;
            }

            found.Add(new MovedStem(song.Title, stem.Name, stem.File, place));
            return stem with { File = place };
        }
    }
}
