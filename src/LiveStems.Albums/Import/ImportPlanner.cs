using LiveStems.Albums.Storage;

namespace LiveStems.Albums.Import;

/// <summary>Decides what each file becomes, before anything is read or copied.</summary>
internal sealed class ImportPlanner(string albumFolder, AlbumFaults faults)
{
    private readonly Dictionary<string, string> folderOfTitle = new(StringComparer.OrdinalIgnoreCase);
    private readonly Dictionary<string, string> sourceOfPath = new(StringComparer.OrdinalIgnoreCase);

    public List<PlannedSong> Plan(IEnumerable<SongFolder> folders) => [.. folders.Select(Song)];

    private PlannedSong Song(SongFolder folder)
    {
        if (!folderOfTitle.TryAdd(folder.Title, folder.Path))
        {
            faults.Add(folder.Path, $"gives the song title '{folder.Title}', as does '{folderOfTitle[folder.Title]}'; rename one of the folders");
        }

        List<string> names = DeliveredName.Stems([.. folder.Files.Select(file => Path.GetFileNameWithoutExtension(file))], folder.Title);
        Dictionary<string, string> fileOfName = new(StringComparer.OrdinalIgnoreCase);
        List<PlannedFile> files = [];
        for (int i = 0; i < folder.Files.Count; i++)
        {
            if (folder.Chosen?.Contains(folder.Files[i]) != false)
            {
                files.Add(File(folder, folder.Files[i], names[i], fileOfName));
            }
        }

        CheckRoughMixes(files);
        return new PlannedSong(folder.Title, files, folder.Chosen is not null);
    }

    private PlannedFile File(SongFolder folder, string source, string name, Dictionary<string, string> fileOfName)
    {
        string? inside = AlbumPath.FromDisk(albumFolder, source);
        string path = inside ?? $"{DeliveredName.OnDisk(folder.Title)}/{DeliveredName.OnDisk(Path.GetFileName(source))}";
        bool isRoughMix = DeliveredName.IsRoughMix(name);
        string? fault = AlbumPath.FaultOf(path) ?? NameRules.FaultOfText(path) ?? NameRules.FaultOfName(name);
        if (fault is not null)
        {
            faults.Add(source, fault);
        }
        else if (!isRoughMix && !fileOfName.TryAdd(name, source))
        {
            faults.Add(source, $"gives the stem name '{name}', as does '{Path.GetFileName(fileOfName[name])}'; rename one of the files");
        }
        else if (!sourceOfPath.TryAdd(path, source))
        {
            faults.Add(source, $"would be '{path}' in the album, as would '{sourceOfPath[path]}'; rename one of the files");
        }

        return new PlannedFile(source, isRoughMix ? null : name, StemRoleGuess.From(name), path, inside is not null);
    }

    private void CheckRoughMixes(List<PlannedFile> files)
    {
        List<PlannedFile> mixes = [.. files.Where(file => file.StemName is null)];
        foreach (PlannedFile second in mixes.Skip(1))
        {
            faults.Add(second.Source, $"is a rough mix by its name, as is '{Path.GetFileName(mixes[0].Source)}'; keep one in the folder");
        }
    }
}
