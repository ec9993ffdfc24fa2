using System.Runtime.InteropServices;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// Memory of a look-ahead outside the managed heap: megabytes that come and go with every song would have the garbage
/// collector run while music plays.
/// </summary>
internal sealed unsafe class RingMemory
{
    private readonly float* values;
    private readonly int count;

    public RingMemory(int count)
    {
        this.count = count;
        values = (float*)NativeMemory.AllocZeroed((nuint)count, sizeof(float));
    }

    ~RingMemory() => NativeMemory.Free(values);

    /// <summary>Values from a place on; only while the ring that holds this is in use.</summary>
    public Span<float> Slice(int start, int length)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan((uint)start + (ulong)(uint)length, (ulong)count);
        return new(values + start, length);
    }
}
