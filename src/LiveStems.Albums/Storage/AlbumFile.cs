using System.Buffers;
using System.Text.Json;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Storage;

/// <summary>
/// The album on disk: <c>album.json</c> in the album's folder, UTF-8 without byte order mark, fields always in the same
/// order, paths from the album's folder down with '/'.
/// </summary>
/// <remarks>Fields that this program does not know, and processors that the catalogue does not have, are kept word for word.</remarks>
public static class AlbumFile
{
    /// <summary>Name of the file in the album's folder.</summary>
    public const string Name = "album.json";

    private const string Remedy = "'livestems show ALBUM' lists all";

    // A hundred songs of ten stems with chains take about 3 MB.
    private const long LargestBytes = 256L << 20;

    /// <summary>The file of an album that is given by its folder or by the file itself.</summary>
    public static string FileOf(string albumFolderOrFile) =>
        Directory.Exists(albumFolderOrFile) || !albumFolderOrFile.EndsWith(".json", StringComparison.OrdinalIgnoreCase)
            ? Path.Combine(albumFolderOrFile, Name)
            : albumFolderOrFile;

    /// <summary>The folder of an album that is given by its folder or by its file; stems are found from there.</summary>
    public static string FolderOf(string albumFolderOrFile) =>
        Path.GetDirectoryName(Path.GetFullPath(FileOf(albumFolderOrFile)))!;

    /// <summary>Reads an album and checks it; whether its sound files are there is left to <see cref="AlbumRules.MissingFiles"/>.</summary>
    /// <exception cref="AlbumException">
    /// The file is missing, unreadable, no JSON, of a newer schema, or breaks the rules of an album; then
    /// <see cref="AlbumException.Faults"/> holds every fault with its place.
    /// </exception>
    public static Album Load(string albumFolderOrFile, ProcessorCatalogue catalogue)
    {
        string file = FileOf(albumFolderOrFile);
        return Parse(ReadBytes(file), file, catalogue);
    }

    /// <summary>Checks an album and writes it, with its folder when that is not there; a crash or a full disk at any moment leaves the old file or the new one, whole.</summary>
    /// <exception cref="AlbumException">
    /// The album breaks the rules, the file there has a newer schema, or it cannot be written; the file there is untouched.
    /// </exception>
    public static void Save(Album album, string albumFolderOrFile, ProcessorCatalogue catalogue)
    {
        string file = FileOf(albumFolderOrFile);
        Write(ToBytes(album, file, catalogue), file);
    }

    /// <summary>As <see cref="Save"/>, the text in memory that the caller uses again.</summary>
    internal static void SaveThrough(ArrayBufferWriter<byte> memory, Album album, string file, ProcessorCatalogue catalogue)
    {
        Check(album, file, catalogue);
        memory.ResetWrittenCount();
        AlbumWriter.Write(album, catalogue, memory);
        Write(memory.WrittenSpan, file);
    }

    /// <summary>Reads an album from the bytes of a file, checked as <see cref="Load"/> does.</summary>
    /// <param name="bytes">UTF-8 text.</param>
    /// <param name="file">Path of the file, for messages.</param>
    /// <param name="catalogue">The processors that parameters are read by.</param>
    public static Album Parse(ReadOnlyMemory<byte> bytes, string file, ProcessorCatalogue catalogue)
    {
        using JsonDocument document = AlbumSyntax.Parse(bytes, file);
        AlbumFaults faults = new();
        AlbumSchema.Check(document.RootElement, file, faults);
        ObjectReader fields = ObjectReader.Open(document.RootElement, FieldPath.Root, faults);
        Album album = new AlbumReader(catalogue).Album(fields);
        AlbumRules.Check(album, catalogue, faults);
        return faults.Count == 0 ? album : throw new AlbumException(file, faults, Remedy);
    }

    /// <summary>The bytes that <see cref="Save"/> writes.</summary>
    public static byte[] ToBytes(Album album, string file, ProcessorCatalogue catalogue)
    {
        Check(album, file, catalogue);
        return AlbumWriter.Write(album, catalogue);
    }

    private static void Check(Album album, string file, ProcessorCatalogue catalogue)
    {
        AlbumFaults faults = AlbumRules.Check(album, catalogue);
        if (faults.Count > 0)
        {
            throw new AlbumException(file, faults, string.Empty);
        }
    }

    private static void Write(ReadOnlySpan<byte> bytes, string file)
    {
        try
        {
            Directory.CreateDirectory(FolderOf(file));
            AlbumSchema.CheckBeforeReplacing(file);
            SafeFile.Replace(file, bytes);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{file}: the album could not be saved, what was there is untouched: {fault.Message}", fault);
        }
    }

    private static byte[] ReadBytes(string file)
    {
        try
        {
            FileInfo info = new(file);
            if (!info.Exists)
            {
                throw new AlbumException($"{file}: there is no album here; 'livestems import FOLDER… --into ALBUM' makes one");
            }

            return info.Length <= LargestBytes
                ? File.ReadAllBytes(file)
                : throw new AlbumException($"{file}: {info.Length >> 20} MB is too large for an album file");
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new AlbumException($"{file}: the album cannot be read: {fault.Message}", fault);
        }
    }
}
