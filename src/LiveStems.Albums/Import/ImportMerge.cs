using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;

namespace LiveStems.Albums.Import;

/// <summary>Puts imported songs into an album: new ones at its end, new stems into the songs that are there.</summary>
internal sealed class ImportMerge(string albumFolder, AlbumFaults faults)
{
    public List<ImportedFile> Files { get; } = [];

    public Album Merge(Album album, PlannedSong planned, IReadOnlyList<string> digests)
    {
        int index = Find(album, planned);
        Song song = index >= 0 ? album.Songs[index] : new Song(planned.Title, null, null, null, [], Chain.Empty, []);
        for (int i = 0; i < planned.Files.Count; i++)
        {
            PlannedFile file = planned.Files[i];
            (song, ImportChange change) = file.StemName is null ? RoughMix(song, file) : Stem(song, file, file.StemName, digests[i]);
            Files.Add(new ImportedFile(file.Source, song.Title, file.StemName, file.AlbumPath, change));
        }

        return album with { Songs = index >= 0 ? album.Songs.SetItem(index, song) : album.Songs.Add(song) };
    }

    // A song may have been given another title since its folder was imported; its files tell.
    private static int Find(Album album, PlannedSong planned)
    {
        HashSet<string> paths = planned.Files.Select(file => file.AlbumPath).ToHashSet(StringComparer.Ordinal);
        int byFile = IndexOf(album.Songs, song => song.Stems.Any(stem => paths.Contains(stem.File)));
        int found = byFile >= 0 ? byFile : IndexOf(album.Songs, song => song.Title.Equals(planned.Title, StringComparison.OrdinalIgnoreCase));
        return found >= 0 || !planned.IsPart ? found : IndexOf(album.Songs, song => song.Stems.Any(stem => FolderOf(stem.File) == FolderOf(planned.Files[0].AlbumPath)));
    }

    private static string FolderOf(string path) => path[..(path.LastIndexOf('/') + 1)];

    private (Song Song, ImportChange Change) Stem(Song song, PlannedFile file, string name, string digest)
    {
        int index = IndexOf(song.Stems, stem => stem.File == file.AlbumPath);
        if (index >= 0 && file.IsInside && song.Stems[index].Sha256 != digest)
        {
            return (song with { Stems = song.Stems.SetItem(index, song.Stems[index] with { Sha256 = digest }) }, ImportChange.Revised);
        }

        index = index >= 0 ? index : IndexOf(song.Stems, stem => stem.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
        if (index < 0)
        {
            Stem added = new(name, file.AlbumPath, digest, file.Role, Placement.AsDelivered, Chain.Empty, [], []);
            return (song with { Stems = song.Stems.Add(added) }, ImportChange.Added);
        }

        Stem there = song.Stems[index];
        string place = AlbumPath.OnDisk(albumFolder, there.File);
        if (there.Sha256 != digest)
        {
            faults.Add(
                file.Source,
                $"'{song.Title}' has a stem '{there.Name}' of other sound; to replace it, put the new file in the place of '{place}' and import that folder, to add it, rename the file");
        }
        else if (!File.Exists(place))
        {
            return (song with { Stems = song.Stems.SetItem(index, there with { File = file.AlbumPath }) }, ImportChange.Restored);
        }

        return (song, ImportChange.Unchanged);
    }

    private static (Song Song, ImportChange Change) RoughMix(Song song, PlannedFile file)
    {
        if (song.RoughMix == file.AlbumPath)
        {
            return (song, ImportChange.Unchanged);
        }

        ImportChange change = song.RoughMix is null ? ImportChange.Added : ImportChange.Revised;
        return (song with { RoughMix = file.AlbumPath }, change);
    }

    internal static int IndexOf<T>(ImmutableArray<T> items, Func<T, bool> fits)
    {
        for (int i = 0; i < items.Length; i++)
        {
            if (fits(items[i]))
            {
                return i;
            }
        }

        return -1;
    }
}
