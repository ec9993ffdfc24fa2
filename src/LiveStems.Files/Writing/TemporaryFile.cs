using Microsoft.Win32.SafeHandles;

namespace LiveStems.Files.Writing;

/// <summary>
/// A file under a passing name beside its target: it takes the target's place whole and on the disk, or not at all.
/// </summary>
/// <remarks>
/// What is written goes to the disk meanwhile, so that <see cref="Keep"/> has little left to wait for.
/// </remarks>
internal class TemporaryFile : IDisposable
{
    private const long BytesBetweenFlushes = 8 << 20;

    private readonly string target;
    private readonly bool isLasting;
    private readonly string path;
    private readonly SafeFileHandle handle;
    private Task flushing = Task.CompletedTask;
    private long unflushedBytes;

    /// <param name="target">Where it shall stand.</param>
    /// <param name="isLasting">False for what can be made again: whether it is on the disk when the power fails does not matter.</param>
    internal TemporaryFile(string target, bool isLasting = true)
    {
        this.isLasting = isLasting;
        this.target = Path.GetFullPath(target);
        path = Path.Combine(Path.GetDirectoryName(this.target) ?? string.Empty, $".{Guid.NewGuid():N}.part");
        handle = File.OpenHandle(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read);
    }

    /// <summary>Writes bytes at an offset.</summary>
    internal virtual void Write(ReadOnlySpan<byte> bytes, long offset)
    {
        try
        {
            RandomAccess.Write(handle, bytes, offset);
            unflushedBytes += bytes.Length;
            if (isLasting && unflushedBytes >= BytesBetweenFlushes && flushing.IsCompletedSuccessfully)
            {
                unflushedBytes = 0;
                flushing = Task.Run(() => RandomAccess.FlushToDisk(handle));
            }
        }
        catch (ArgumentOutOfRangeException cause)
        {
            // .NET words it so when the file system cannot hold a file of this size.
            throw new IOException(cause.Message, WritingFault.FileTooLarge);
        }
    }

    /// <summary>Ends the file at an offset.</summary>
    internal void Cut(long offset) => RandomAccess.SetLength(handle, offset);

    /// <summary>Puts everything on the disk and takes the target's place.</summary>
    internal void Keep()
    {
        // A fault of the disk may be told once only, so one that was met on the way counts.
        flushing.GetAwaiter().GetResult();
        if (isLasting)
        {
            RandomAccess.FlushToDisk(handle);
        }

        handle.Dispose();
        File.Move(path, target, overwrite: true);
    }

    /// <summary>Removes the file unless it was kept.</summary>
    public void Dispose()
    {
        Task.WaitAny(flushing);
        handle.Dispose();
        File.Delete(path);
        GC.SuppressFinalize(this);
    }
}
