using System.Buffers.Binary;

namespace LiveStems.Files.Reading;

/// <summary>The 'ds64' chunk: 64-bit sizes of the chunks whose own 32-bit size says 0xFFFFFFFF (EBU Tech 3306, BS.2088).</summary>
internal readonly struct LongSizes
{
    // Entries beyond this many are not looked at; a file names a handful at most.
    private const int MostEntries = 1024;

    private readonly long? dataBytes;
    private readonly (uint Id, long Bytes)[]? table;

    private LongSizes(long dataBytes, (uint Id, long Bytes)[] table)
    {
        this.dataBytes = dataBytes;
        this.table = table;
    }

    /// <summary>Reads the chunk's data.</summary>
    internal static LongSizes Parse(SoundBytes file, long offset, long size)
    {
        if (size < 28)
        {
            throw file.Fault("has a damaged header (its 'ds64' chunk is too short); export it again");
        }

        Span<byte> bytes = stackalloc byte[28];
        file.ReadHeader(offset, bytes);
        long dataBytes = BinaryPrimitives.ReadInt64LittleEndian(bytes[8..]);
        long stated = BinaryPrimitives.ReadUInt32LittleEndian(bytes[24..]);
        (uint Id, long Bytes)[] table = new (uint, long)[Math.Min(MostEntries, Math.Min(stated, (size - 28) / 12))];
        for (int entry = 0; entry < table.Length; entry++)
        {
            file.ReadHeader(offset + 28 + (12L * entry), bytes[..12]);
            table[entry] = (BinaryPrimitives.ReadUInt32BigEndian(bytes), BinaryPrimitives.ReadInt64LittleEndian(bytes[4..]));
        }

        return new LongSizes(dataBytes, table);
    }

    /// <summary>The size of a chunk, or null when the 'ds64' chunk does not tell it.</summary>
    internal long? SizeOf(uint id)
    {
        if (id == ChunkId.Data)
        {
            return dataBytes;
        }

        foreach ((uint entry, long bytes) in table ?? [])
        {
            if (entry == id && bytes >= 0)
            {
                return bytes;
            }
        }

        return null;
    }
}
