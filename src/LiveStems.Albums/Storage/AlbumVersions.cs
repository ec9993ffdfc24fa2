using System.Buffers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Storage;

/// <summary>
/// The versions of an album: named snapshots of all its settings, one file each in the folder <c>versions</c> beside it.
/// They hold no sound.
/// </summary>
public static class AlbumVersions
{
    /// <summary>Folder of the versions in the album's folder.</summary>
    public const string FolderName = "versions";

    /// <summary>What the album as it is is called where a version could be meant.</summary>
    public const string Now = "now";

    private const int Schema = 1;
    private const int LongestName = 80;
    private const string SchemaField = "versionSchema";

    private static readonly JsonWriterOptions Form = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>All versions, the oldest first.</summary>
    /// <exception cref="AlbumException">A file in the folder cannot be read or is no version.</exception>
    public static IReadOnlyList<AlbumVersion> List(string albumFolderOrFile, ProcessorCatalogue catalogue)
    {
        string folder = FolderOf(albumFolderOrFile);
        return Directory.Exists(folder)
            ? [.. Directory.EnumerateFiles(folder, "*.json").Select(path => Read(path, catalogue)).OrderBy(version => version.SavedAt).ThenBy(version => version.Name, StringComparer.Ordinal)]
            : [];
    }

    /// <summary>Takes a snapshot.</summary>
    /// <exception cref="AlbumException">The name cannot be one or is taken, or the file cannot be written.</exception>
    public static AlbumVersion Save(Album album, string name, string albumFolderOrFile, ProcessorCatalogue catalogue)
    {
        string trimmed = CheckedName(name);
        if (List(albumFolderOrFile, catalogue).Any(version => version.Name.Equals(trimmed, StringComparison.OrdinalIgnoreCase)))
        {
            throw new AlbumException($"there is a version '{trimmed}' already; give another name, or delete that one first");
        }

        AlbumVersion version = new(trimmed, DateTimeOffset.UtcNow, album);
        Write(version, FolderOf(albumFolderOrFile), catalogue);
        return version;
    }

    internal static void Write(AlbumVersion version, string folder, ProcessorCatalogue catalogue)
    {
        try
        {
            Directory.CreateDirectory(folder);
            SafeFile.Replace(FreePath(folder, version.Name), ToBytes(version, catalogue));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{folder}: the version could not be saved: {fault.Message}", fault);
        }
    }

    /// <summary>A version of an album by its name, a beginning of it that no other has, or the path of its file.</summary>
    /// <param name="album">The album as it is, which the version must belong to.</param>
    /// <param name="nameOrPath">Which one; "now" is the album as it is.</param>
    /// <param name="albumFolderOrFile">Where the album lies.</param>
    /// <param name="catalogue">The processors there are.</param>
    /// <exception cref="AlbumException">There is no such version, or it is one of another album.</exception>
    public static AlbumVersion Find(Album album, string nameOrPath, string albumFolderOrFile, ProcessorCatalogue catalogue)
    {
        if (nameOrPath.Trim().Equals(Now, StringComparison.OrdinalIgnoreCase))
        {
            return new AlbumVersion(Now, DateTimeOffset.UtcNow, album);
        }

        AlbumVersion version = nameOrPath.EndsWith(".json", StringComparison.OrdinalIgnoreCase) && File.Exists(nameOrPath)
            ? Read(nameOrPath, catalogue)
            : Named(nameOrPath, List(albumFolderOrFile, catalogue));
        return OfAlbum(album, version, nameOrPath);
    }

    /// <summary>One of several versions that have been read, by its name or a beginning of it that no other has.</summary>
    /// <param name="album">The album as it is, which the version must belong to.</param>
    /// <param name="name">Which one.</param>
    /// <param name="versions">Those that there are.</param>
    /// <exception cref="AlbumException">There is no such version, or it is one of another album.</exception>
    public static AlbumVersion Find(Album album, string name, IReadOnlyList<AlbumVersion> versions) => OfAlbum(album, Named(name, versions), name);

    /// <summary>Takes a version out of the list; its file is put aside, and <see cref="DeletedVersions"/> brings it back.</summary>
    /// <exception cref="AlbumException">There is no such version, or it cannot be moved.</exception>
    public static AlbumVersion Delete(string name, string albumFolderOrFile, ProcessorCatalogue catalogue)
    {
        string folder = FolderOf(albumFolderOrFile);
        AlbumVersion version = Named(name, List(albumFolderOrFile, catalogue));
        try
        {
            DeletedVersions.PutAside(Directory.EnumerateFiles(folder, "*.json").First(path => Read(path, catalogue).Name == version.Name));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{folder}: the version '{version.Name}' could not be deleted: {fault.Message}", fault);
        }

        return version;
    }

    /// <summary>The album of a version, ready to take the place of the present one: stems that were moved since are found by their digest.</summary>
    public static Album WithPresentFiles(Album version, Album present)
    {
        Dictionary<string, string> places = new(StringComparer.Ordinal);
        foreach (Stem stem in present.Songs.SelectMany(song => song.Stems).Where(stem => stem.Sha256.Length > 0))
        {
            places.TryAdd(stem.Sha256, stem.File);
        }

        return version with
        {
            Songs = [.. version.Songs.Select(song => song with
            {
                Stems = [.. song.Stems.Select(stem => places.TryGetValue(stem.Sha256, out string? file) && !IsIn(present, stem.File) ? stem with { File = file } : stem)],
            })],
        };
    }

    private static AlbumVersion OfAlbum(Album album, AlbumVersion version, string name) => AreOfOneAlbum(version.Album, album)
        ? version
        : throw new AlbumException($"'{name}' is a version of another album, '{version.Album.Title}': the two have no stem in common");

    private static bool IsIn(Album album, string file) => album.Songs.Any(song => song.Stems.Any(stem => stem.File == file));

    private static AlbumVersion Named(string name, IReadOnlyList<AlbumVersion> versions) => versions.Count == 0
        ? throw new AlbumException($"the album has no versions; 'livestems versions ALBUM --save NAME' takes one")
        : versions[NameSearch.Find("version", [.. versions.Select(version => version.Name)], name.Trim())];

    // An album is known by its sound: titles change.
    private static bool AreOfOneAlbum(Album one, Album other)
    {
        HashSet<string> sounds = [.. Sounds(one)];
        return sounds.Count == 0 || !Sounds(other).Any() || Sounds(other).Any(sounds.Contains);
    }

    private static IEnumerable<string> Sounds(Album album) => album.Songs.SelectMany(song => song.Stems).Select(StemTree.IdentityOf);

    internal static string FolderOf(string albumFolderOrFile) => Path.Combine(AlbumFile.FolderOf(albumFolderOrFile), FolderName);

    private static string CheckedName(string name)
    {
        string trimmed = name.Trim();
        return trimmed.Length is 0 or > LongestName ? throw new AlbumException($"the name of a version has 1 to {LongestName} letters")
            : NameRules.HasControls(trimmed) ? throw new AlbumException("the name of a version cannot hold control characters")
            : trimmed.Equals(Now, StringComparison.OrdinalIgnoreCase) ? throw new AlbumException($"'{Now}' is the album as it is; give the version another name")
            : trimmed;
    }

    // Names may hold what files may not; the name inside the file counts.
    internal static string FreePath(string folder, string name)
    {
        string bare = string.Concat(name.Select(letter => char.IsLetterOrDigit(letter) || letter is ' ' or '-' or '_' ? letter : '-')).Trim();
        string stem = bare.Length == 0 ? "version" : bare;
        string path = Path.Combine(folder, stem + ".json");
        for (int number = 2; File.Exists(path); number++)
        {
            path = Path.Combine(folder, $"{stem} {number}.json");
        }

        return path;
    }

    private static byte[] ToBytes(AlbumVersion version, ProcessorCatalogue catalogue)
    {
        ArrayBufferWriter<byte> text = new();
        using (Utf8JsonWriter json = new(text, Form))
        {
            json.WriteStartObject();
            json.WriteNumber(SchemaField, Schema);
            json.WriteString("name", version.Name);
            json.WriteString("savedAt", version.SavedAt);
            json.WritePropertyName("album");
            json.WriteRawValue(AlbumWriter.Write(version.Album, catalogue));
            json.WriteEndObject();
        }

        text.Write("\n"u8);
        return text.WrittenSpan.ToArray();
    }

    internal static AlbumVersion Read(string path, ProcessorCatalogue catalogue)
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(path));
            JsonElement root = document.RootElement;
            int schema = root.GetProperty(SchemaField).GetInt32();
            if (schema > Schema)
            {
                throw new AlbumException($"{path}: is a version of schema {schema}; this program reads up to {Schema}: update it");
            }

            byte[] album = Encoding.UTF8.GetBytes(root.GetProperty("album").GetRawText());
            return new AlbumVersion(root.GetProperty("name").GetString()!, root.GetProperty("savedAt").GetDateTimeOffset(), AlbumFile.Parse(album, path, catalogue));
        }
        catch (Exception fault) when (fault is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            throw new AlbumException($"{path}: is no version of an album, or is damaged; versions are the files in an album's folder 'versions'", fault);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{path}: cannot be read: {fault.Message}", fault);
        }
    }
}
