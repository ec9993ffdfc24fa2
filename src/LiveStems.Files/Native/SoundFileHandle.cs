using System.Runtime.InteropServices;

namespace LiveStems.Files.Native;

/// <summary>An open file of libsndfile.</summary>
internal sealed class SoundFileHandle : SafeHandle
{
    public SoundFileHandle()
        : base(0, ownsHandle: true)
    {
    }

    public override bool IsInvalid => handle == 0;

    protected override bool ReleaseHandle() => SoundFileLibrary.Close(handle) == 0;
}
