using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Journal;

/// <summary>What there is to say and do when an album is closed and its disk has not taken everything.</summary>
internal static class LastResort
{
    /// <summary>The journal holds all changes, the album's file does not.</summary>
    /// <param name="reason">Why the file could not be written.</param>
    public static string Journalled(string reason) =>
        $"{reason}; the changes are kept in {JournalFile.Name} beside it: once it can be written, open the album again, or 'livestems recover' it, and they are taken in";

    /// <summary>Changes are neither in the journal nor in the album's file: a copy of the album is put where temporary files go.</summary>
    /// <param name="file">The album's file.</param>
    /// <param name="words">What was changed.</param>
    /// <param name="reason">Why it could not be written.</param>
    /// <param name="album">The album with the changes.</param>
    /// <param name="catalogue">The processors there are.</param>
    public static string Copied(string file, string words, string reason, Album album, ProcessorCatalogue catalogue)
    {
        string lost = $"{file}: could not be saved: {words}: {reason}";
        try
        {
            string copy = Path.Combine(Directory.CreateTempSubdirectory("livestems-").FullName, AlbumFile.Name);
            SafeFile.Replace(copy, AlbumWriter.Write(album, catalogue));
            return $"{lost}; the album with these changes is kept in {copy}: make room, then copy that file over {file}";
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return $"{lost}; and no copy could be kept elsewhere ({fault.Message}): make room and do it again";
        }
    }
}
