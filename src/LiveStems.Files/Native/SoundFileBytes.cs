using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using LiveStems.Files.Reading;

namespace LiveStems.Files.Native;

/// <summary>
/// Hands a file's bytes to libsndfile, so that paths, rights and faults are ours on every system, whatever letters a path
/// has.
/// </summary>
internal sealed unsafe class SoundFileBytes : IDisposable
{
    private readonly SoundBytes file;
    private GCHandle self;
    private long position;

    internal SoundFileBytes(SoundBytes file)
    {
        this.file = file;
        self = GCHandle.Alloc(this);
    }

    /// <summary>What the library hands back with each call.</summary>
    internal nint UserData => GCHandle.ToIntPtr(self);

    /// <summary>A fault of the file that a call met; the library itself only learns that no bytes came.</summary>
    internal AudioFileException? Fault { get; private set; }

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

    private static SoundFileBytes Of(nint userData) => (SoundFileBytes)GCHandle.FromIntPtr(userData).Target!;

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Length(nint userData) => Of(userData).file.Length;

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Seek(long offset, int whence, nint userData)
    {
        SoundFileBytes bytes = Of(userData);
        long origin = (SeekOrigin)whence switch
        {
            SeekOrigin.Current => bytes.position,
            SeekOrigin.End => bytes.file.Length,
            _ => 0,
        };
        bytes.position = Math.Max(0, origin + offset);
        return bytes.position;
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Read(byte* destination, long count, nint userData)
    {
        SoundFileBytes bytes = Of(userData);
        try
        {
            int read = bytes.file.Read(bytes.position, new Span<byte>(destination, (int)Math.Clamp(count, 0, int.MaxValue)));
            bytes.position += read;
            return read;
        }
        catch (AudioFileException fault)
        {
            bytes.Fault = fault;
            return 0;
        }
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Write(byte* source, long count, nint userData) => 0;

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static long Tell(nint userData) => Of(userData).position;
}
