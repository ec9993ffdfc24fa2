using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using LiveStems.Files.Writing;

namespace LiveStems.Files.Native;

/// <summary>Takes the bytes that libsndfile writes, so that paths, rights and faults are ours on every system.</summary>
internal sealed unsafe class SoundFileSink : IDisposable
{
    private readonly TemporaryFile file;
    private GCHandle self;
    private long position;
    private long length;

    internal SoundFileSink(TemporaryFile file)
    {
        this.file = file;
        self = GCHandle.Alloc(this);
    }

    /// <summary>What the library hands back with each call.</summary>
    internal nint UserData => GCHandle.ToIntPtr(self);

    /// <summary>What the system said when bytes could not be written; the library itself only learns that none were.</summary>
    internal Exception? Fault { get; private set; }

    /// <summary>The calls.</summary>
    internal static VirtualFile Calls => new()
    {
        Length = &Length,
        Seek = &Seek,
        Read = &Read,
        Write = &Write,
        Tell = &Tell,
    };

    /// <inheritdoc/>
    public void Dispose()
    {
        if (self.IsAllocated)
        {
            self.Free();
        }
    }

    private static SoundFileSink Of(nint userData) => (SoundFileSink)GCHandle.FromIntPtr(userData).Target!;

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Length(nint userData) => Of(userData).length;

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Seek(long offset, int whence, nint userData)
    {
        SoundFileSink sink = Of(userData);
        long origin = (SeekOrigin)whence switch
        {
            SeekOrigin.Current => sink.position,
            SeekOrigin.End => sink.length,
            _ => 0,
        };
        sink.position = Math.Max(0, origin + offset);
        return sink.position;
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Read(byte* destination, long count, nint userData) => 0;

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Write(byte* source, long count, nint userData)
    {
        SoundFileSink sink = Of(userData);
        try
        {
            sink.file.Write(new ReadOnlySpan<byte>(source, checked((int)count)), sink.position);
            sink.position += count;
            sink.length = Math.Max(sink.length, sink.position);
            return count;
        }
        catch (Exception fault) when (WritingFault.IsOfSystem(fault))
        {
            sink.Fault = fault;
            return 0;
        }
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Tell(nint userData) => Of(userData).position;
}
