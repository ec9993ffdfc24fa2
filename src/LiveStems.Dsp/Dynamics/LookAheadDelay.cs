using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>Holds one channel back by a fixed number of samples, so that a gain can be ready before the sound it is for.</summary>
public sealed class LookAheadDelay
{
    private readonly float[] ring;
    private int position;

    /// <summary>A delay of 0 or more samples, filled with silence.</summary>
    public LookAheadDelay(int samples) => ring = Unmoved.Array<float>(samples);

    /// <summary>Samples between input and output.</summary>
    public int Samples => ring.Length;

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        Array.Clear(ring);
        position = 0;
    }

    /// <summary>Replaces each sample by the one that came in <see cref="Samples"/> earlier.</summary>
    public void Process(Span<float> samples)
    {
        if (ring.Length == 0)
        {
            return;
        }

        while (samples.Length > 0)
        {
            int run = Math.Min(samples.Length, ring.Length - position);
            Swap(samples[..run], ring.AsSpan(position, run));
            position = position + run == ring.Length ? 0 : position + run;
            samples = samples[run..];
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Swap(Span<float> a, Span<float> b)
    {
        ref float x = ref MemoryMarshal.GetReference(a);
        ref float y = ref MemoryMarshal.GetReference(b);
        int i = 0;
        for (; Vector512.IsHardwareAccelerated && i <= a.Length - Vector512<float>.Count; i += Vector512<float>.Count)
        {
            Vector512<float> incoming = Vector512.LoadUnsafe(ref x, (nuint)i);
            Vector512.LoadUnsafe(ref y, (nuint)i).StoreUnsafe(ref x, (nuint)i);
            incoming.StoreUnsafe(ref y, (nuint)i);
        }

        for (; i <= a.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<float> incoming = Vector256.LoadUnsafe(ref x, (nuint)i);
            Vector256.LoadUnsafe(ref y, (nuint)i).StoreUnsafe(ref x, (nuint)i);
            incoming.StoreUnsafe(ref y, (nuint)i);
        }

        for (; i < a.Length; i++)
        {
            (a[i], b[i]) = (b[i], a[i]);
        }
    }
}
