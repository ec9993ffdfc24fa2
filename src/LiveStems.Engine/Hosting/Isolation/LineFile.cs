using System.IO.MemoryMappedFiles;
using System.Numerics;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>The file behind a shared line, mapped into memory.</summary>
internal sealed unsafe class LineFile : IDisposable
{
    private readonly MemoryMappedFile file;
    private readonly MemoryMappedViewAccessor view;
    private readonly nint start;

    private LineFile(FileStream stream, long bytes)
    {
        file = MemoryMappedFile.CreateFromFile(stream, null, bytes, MemoryMappedFileAccess.ReadWrite, HandleInheritability.None, leaveOpen: false);
        view = file.CreateViewAccessor();
        byte* pointer = null;
        view.SafeMemoryMappedViewHandle.AcquirePointer(ref pointer);
        start = (nint)(pointer + view.PointerOffset);
    }

    /// <summary>Makes a line in a file that is not there yet; only the user may read it.</summary>
    /// <param name="path">Where.</param>
    /// <param name="leastFrames">Frames it must hold.</param>
    /// <param name="channels">2, or 4 with a key.</param>
    public static SharedLine Create(string path, int leastFrames, int channels)
    {
        int capacity = (int)BitOperations.RoundUpToPowerOf2((uint)leastFrames);
        FileStreamOptions form = new() { Mode = FileMode.CreateNew, Access = FileAccess.ReadWrite, Share = FileShare.ReadWrite | FileShare.Delete };
        if (!OperatingSystem.IsWindows())
        {
            form.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        LineFile made = new(new FileStream(path, form), SharedLine.BytesFor(capacity, channels));
        return new SharedLine(made.start, made.view.Capacity, made, capacity, channels);
    }

    /// <summary>Opens the line that the other side has made.</summary>
    public static SharedLine Open(string path)
    {
        LineFile opened = new(new FileStream(path, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite | FileShare.Delete), 0);
        return new SharedLine(opened.start, opened.view.Capacity, opened);
    }

    public void Dispose()
    {
        view.SafeMemoryMappedViewHandle.ReleasePointer();
        view.Dispose();
        file.Dispose();
    }
}
