using System.Buffers;
using System.Security.Cryptography;
using System.Text;

namespace LiveStems.Albums.Journal;

/// <summary>The journal beside an album: lines that are only ever added, each on the disk before anything else happens.</summary>
internal sealed class JournalFile : IDisposable
{
    /// <summary>Name of the file in the album's folder.</summary>
    public const string Name = "album.journal";

    private readonly FileStream stream;
    private readonly ArrayBufferWriter<byte> lines = new();

    /// <param name="stream">The file, at its end; without a buffer, so that nothing of what a full disk refused stays behind.</param>
    internal JournalFile(FileStream stream) => this.stream = stream;

    /// <summary>The digest of an album's text.</summary>
    public static string DigestOf(string text) => DigestOf(Encoding.UTF8.GetBytes(text));

    /// <summary>The digest of an album's text in UTF-8.</summary>
    public static string DigestOf(ReadOnlySpan<byte> text)
    {
        Span<byte> digest = stackalloc byte[SHA256.HashSizeInBytes];
        SHA256.HashData(text, digest);
        return Convert.ToHexStringLower(digest[..16]);
    }

    /// <summary>
    /// The records of a journal, and the length of the part that was understood: what follows is a line that a crash tore.
    /// </summary>
    public static (List<JournalRecord> Records, long Length) Read(string folder)
    {
        List<JournalRecord> records = [];
        string path = Path.Combine(folder, Name);
        if (!File.Exists(path))
        {
            return (records, 0);
        }

        using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        byte[] bytes = new byte[file.Length];
        int length = file.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
        int start = 0;
        while (start < length)
        {
            int end = bytes.AsSpan(start, length - start).IndexOf((byte)'\n');
            if (end < 0 || JournalLine.Read(Encoding.UTF8.GetString(bytes, start, end)) is not { } record)
            {
                break;
            }

            records.Add(record);
            start += end + 1;
        }

        return (records, start);
    }

    /// <summary>Opens a journal to add to, behind the part that was understood.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public static JournalFile Open(string folder, long length)
    {
        FileStream stream = new(Path.Combine(folder, Name), FileMode.OpenOrCreate, FileAccess.Write, FileShare.ReadWrite | FileShare.Delete, bufferSize: 0);
        try
        {
            stream.SetLength(Math.Min(length, stream.Length));
            stream.Seek(0, SeekOrigin.End);
            return new JournalFile(stream);
        }
        catch
        {
            stream.Dispose();
            throw;
        }
    }

    /// <summary>Adds records; when this returns they are on the disk.</summary>
    /// <exception cref="IOException">The disk is full or gone; no part of them counts.</exception>
    public void Add(IEnumerable<JournalRecord> records)
    {
        lines.ResetWrittenCount();
        foreach (JournalRecord record in records)
        {
            JournalLine.Write(record, lines);
        }

        long before = stream.Position;
        try
        {
            stream.Write(lines.WrittenSpan);
            stream.Flush(flushToDisk: true);
        }
        catch
        {
            stream.SetLength(before);
            stream.Position = before;
            throw;
        }
    }

    public void Dispose() => stream.Dispose();
}
