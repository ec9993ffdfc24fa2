using Microsoft.Win32.SafeHandles;

namespace LiveStems.Files.Reading;

/// <summary>The bytes of an open file, read at any place. Faults of the system become faults of the file.</summary>
internal sealed class SoundBytes : IDisposable
{
    private readonly SafeFileHandle handle;

    private SoundBytes(string path, SafeFileHandle handle)
    {
        Path = path;
        this.handle = handle;
        Length = RandomAccess.GetLength(handle);
    }

    /// <summary>Path the file was opened by.</summary>
    internal string Path { get; }

    /// <summary>Bytes in the file when it was opened.</summary>
    internal long Length { get; }

    /// <summary>Opens a file so that others may still read, write, replace or delete it.</summary>
    internal static SoundBytes Open(string path)
    {
        SafeFileHandle? handle = null;
        try
        {
            handle = File.OpenHandle(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            return new SoundBytes(path, handle);
        }
        catch (Exception cause) when (IsOfSystem(cause))
        {
            handle?.Dispose();
            throw FileFault.OfReading(path, cause);
        }
    }

    /// <summary>Reads until the destination is full or the file ends, and returns how many bytes.</summary>
    internal int Read(long offset, Span<byte> destination)
    {
        try
        {
            int total = 0;
            while (total < destination.Length)
            {
                int read = RandomAccess.Read(handle, destination[total..], offset + total);
                if (read == 0)
                {
                    break;
                }

                total += read;
            }

            return total;
        }
        catch (Exception cause) when (IsOfSystem(cause))
        {
            throw FileFault.OfReading(Path, cause);
        }
    }

    /// <summary>Reads a header's bytes, or says that the file breaks off in its header.</summary>
    internal void ReadHeader(long offset, Span<byte> destination)
    {
        if (Read(offset, destination) < destination.Length)
        {
            throw Fault("breaks off in its header; copy or export it again");
        }
    }

    /// <summary>A fault of this file.</summary>
    internal AudioFileException Fault(string fault) => FileFault.Of(Path, fault);

    /// <inheritdoc/>
    public void Dispose() => handle.Dispose();

    private static bool IsOfSystem(Exception cause) => cause
        is IOException or UnauthorizedAccessException or NotSupportedException or ArgumentException;
}
