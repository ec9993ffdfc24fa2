using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace LiveStems.Dsp.Spectral;

/// <summary>Floats that begin at a cache line, so that no vector straddles two.</summary>
internal sealed class AlignedFloats
{
    private const int LineBytes = 64;

    private readonly float[] memory;
    private readonly int first;

    public AlignedFloats(int count)
    {
        Count = count;
        memory = GC.AllocateArray<float>(count + LineBytes / sizeof(float), pinned: true);
        nint address = Marshal.UnsafeAddrOfPinnedArrayElement(memory, 0);
        first = (int)(-address & (LineBytes - 1)) / sizeof(float);
    }

    public int Count { get; }

    public ref float Start => ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(memory), first);

    public Span<float> Span => memory.AsSpan(first, Count);
}
