using System.Buffers;
using System.Text;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Journal;

/// <summary>
/// The texts of an album on the way from the state that the journal holds to the latest: in three pieces of memory that are
/// used over and over, since a drag makes five a second.
/// </summary>
internal sealed class AlbumTexts
{
    private readonly ProcessorCatalogue catalogue;
    private readonly ArrayBufferWriter<byte>[] memory = [new(), new(), new()];
    private int kept;
    private int latest;

    /// <summary>Begins with the text that the journal holds.</summary>
    public AlbumTexts(string text, ProcessorCatalogue catalogue)
    {
        this.catalogue = catalogue;
        Encoding.UTF8.GetBytes(text, memory[kept]);
    }

    /// <summary>Digest of the latest text.</summary>
    public string Digest => JournalFile.DigestOf(memory[latest].WrittenSpan);

    /// <summary>Makes the text of an album the latest, and says how it follows from the one before.</summary>
    public TextPatch Follow(Album album)
    {
        int before = latest;
        Add(album);
        return TextPatch.Between(memory[before].WrittenSpan, memory[latest].WrittenSpan);
    }

    /// <summary>The journal holds the latest.</summary>
    public void Keep() => kept = latest;

    /// <summary>The journal does not hold what was added since.</summary>
    public void Forget() => latest = kept;

    /// <summary>Makes the text of an album the latest.</summary>
    public void Add(Album album)
    {
        int next = Array.FindIndex(memory, each => each != memory[kept] && each != memory[latest]);
        memory[next].ResetWrittenCount();
        AlbumWriter.Write(album, catalogue, memory[next]);
        latest = next;
    }
}
