using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace LiveStems.Dsp.Spectral;

/// <summary>Doubles that begin at a cache line, so that no vector straddles two.</summary>
internal sealed class AlignedDoubles
{
    private const int LineBytes = 64;

    private readonly double[] memory;
    private readonly int first;

    public AlignedDoubles(int count)
    {
        Count = count;
        memory = GC.AllocateArray<double>(count + LineBytes / sizeof(double), pinned: true);
        nint address = Marshal.UnsafeAddrOfPinnedArrayElement(memory, 0);
        first = (int)(-address & (LineBytes - 1)) / sizeof(double);
    }

    public int Count { get; }

    public ref double Start => ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(memory), first);

    public Span<double> Span => memory.AsSpan(first, Count);
}
