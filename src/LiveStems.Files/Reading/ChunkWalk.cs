using System.Buffers.Binary;

namespace LiveStems.Files.Reading;

/// <summary>
/// Steps through the chunks of an IFF-like file: a name of four letters, a 32-bit size, the data, and a pad byte that the
/// size does not count where it is odd.
/// </summary>
internal struct ChunkWalk(SoundBytes file, bool isBigEndian)
{
    // More chunks than any honest file has: keeps a gigabyte of zeros from being walked eight bytes at a time.
    private const int MostChunks = 4096;

    // After 'RIFF', the size of all, and 'WAVE'; after 'FORM', the size of all, and 'AIFF'.
    private long next = 12;
    private int count;

    /// <summary>Name of the chunk, first letter in the highest byte.</summary>
    internal uint Id { get; private set; }

    /// <summary>Where its data starts.</summary>
    internal long Offset { get; private set; }

    /// <summary>Bytes of its data as its header claims.</summary>
    internal long Size { get; private set; }

    /// <summary>Goes to the next chunk, if there is one.</summary>
    internal bool Next()
    {
        if (next > file.Length - 8)
        {
            return false;
        }

        if (++count > MostChunks)
        {
            throw file.Fault("has a damaged header (thousands of chunks and no sound among them); export it again");
        }

        Span<byte> head = stackalloc byte[8];
        file.ReadHeader(next, head);
        Id = BinaryPrimitives.ReadUInt32BigEndian(head);
        uint size = isBigEndian
            ? BinaryPrimitives.ReadUInt32BigEndian(head[4..])
            : BinaryPrimitives.ReadUInt32LittleEndian(head[4..]);
        Offset = next + 8;
        Resize(size);
        return true;
    }

    /// <summary>Gives the chunk a size that another place of the file tells.</summary>
    internal void Resize(long size)
    {
        Size = size;
        next = size < 0 || size > file.Length - Offset ? file.Length : Offset + size + (size & 1);
    }
}
