using System.Buffers.Binary;
using System.Text;

namespace LiveStems.Files.Writing;

/// <summary>What a file says about its music.</summary>
/// <param name="Title">Title of the song.</param>
/// <param name="Artist">Who plays.</param>
/// <param name="Album">Title of the album.</param>
/// <param name="Track">Place on the album, from 1; null for none.</param>
/// <param name="Date">Date as text, such as 2026-11-25; empty for none.</param>
/// <param name="Isrc">International Standard Recording Code (ISO 3901), 12 letters and digits; empty for none.</param>
/// <param name="Software">The program that wrote the file.</param>
public sealed record InfoTags(string Title, string Artist, string Album, int? Track, string Date, string Isrc, string Software)
{
    /// <summary>
    /// The body of the 'LIST' chunk of type 'INFO' (Multimedia Programming Interface and Data Specifications 1.0, 1991,
    /// chapter 2), in UTF-8; the code as 'ISRC' is common practice, the specification's own use of that name is "source".
    /// </summary>
    internal byte[] ToListBytes()
    {
        using MemoryStream list = new();
        list.Write("INFO"u8);
        Add(list, "INAM"u8, Title);
        Add(list, "IART"u8, Artist);
        Add(list, "IPRD"u8, Album);
        Add(list, "ITRK"u8, Track?.ToString() ?? string.Empty);
        Add(list, "ICRD"u8, Date);
        Add(list, "ISRC"u8, Isrc);
        Add(list, "ISFT"u8, Software);
        return list.ToArray();
    }

    private static void Add(MemoryStream list, ReadOnlySpan<byte> id, string text)
    {
        if (text.Length == 0)
        {
            return;
        }

        byte[] bytes = [.. Encoding.UTF8.GetBytes(text), 0];
        Span<byte> size = stackalloc byte[4];
        BinaryPrimitives.WriteInt32LittleEndian(size, bytes.Length);
        list.Write(id);
        list.Write(size);
        list.Write(bytes);
        if (bytes.Length % 2 != 0)
        {
            list.WriteByte(0);
        }
    }
}
