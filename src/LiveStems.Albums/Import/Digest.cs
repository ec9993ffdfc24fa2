using System.Security.Cryptography;

namespace LiveStems.Albums.Import;

/// <summary>SHA-256 of files (FIPS 180-4), read as a stream.</summary>
internal static class Digest
{
    private const int ChunkBytes = 1 << 20;

    /// <summary>The digest of a file in lower-case hexadecimal; writes what it reads to a second stream when there is one.</summary>
    /// <param name="path">The file.</param>
    /// <param name="copy">Takes the bytes as they pass, or null.</param>
    /// <param name="read">Told the bytes of every chunk.</param>
    /// <param name="cancel">Ends the reading.</param>
    public static string Of(string path, Stream? copy, Action<int> read, CancellationToken cancel)
    {
        using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0, FileOptions.SequentialScan);
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] chunk = new byte[ChunkBytes];
        while (true)
        {
            cancel.ThrowIfCancellationRequested();
            int length = file.Read(chunk);
            if (length == 0)
            {
                return Convert.ToHexStringLower(hash.GetHashAndReset());
            }

            hash.AppendData(chunk, 0, length);
            copy?.Write(chunk, 0, length);
            read(length);
        }
    }
}
