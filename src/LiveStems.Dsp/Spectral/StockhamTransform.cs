using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// A real transform of 128 samples and more as a complex one of half the size: eight interleaved transforms of radix 4 in
/// the eight lanes, then one pass across the lanes.
/// </summary>
internal sealed class StockhamTransform
{
    public const int SmallestSize = 128;

    private readonly int half;
    private readonly int laneLength;
    private readonly AlignedMemory<float> first;
    private readonly AlignedMemory<float> second;
    private readonly AlignedMemory<float>[] twiddles;
    private readonly AlignedMemory<float> crossTwiddles;
    private readonly AlignedMemory<float> forwardTurns;
    private readonly AlignedMemory<float> inverseTurns;

    public StockhamTransform(int size)
    {
        half = size / 2;
        laneLength = half / ComplexLanes.Count;
        first = new AlignedMemory<float>(2 * half);
        second = new AlignedMemory<float>(2 * half);
        twiddles = [.. TwiddleTables.Passes(laneLength)];
        crossTwiddles = TwiddleTables.AcrossLanes(laneLength);
        forwardTurns = TwiddleTables.Turns(size, half / 2, firstBin: 1, sign: -1, scale: 0.5);
        inverseTurns = TwiddleTables.Turns(size, half, firstBin: 0, sign: 1, scale: 0.5 / half);
    }

    public void Forward(ReadOnlySpan<float> signal, Span<float> real, Span<float> imaginary)
    {
        ref float re = ref MemoryMarshal.GetReference(real);
        ref float im = ref MemoryMarshal.GetReference(imaginary);
        ref float lanes = ref TransformLanes(new SignalSource(ref MemoryMarshal.GetReference(signal)));
        CrossLanePass.Run(ref lanes, new SpectrumTarget(ref re, ref im), ref crossTwiddles.Start, laneLength);
        Untangle(ref re, ref im);
    }

    public void Inverse(ReadOnlySpan<float> real, ReadOnlySpan<float> imaginary, Span<float> signal)
    {
        HalfSpectrumSource source = new(
            ref MemoryMarshal.GetReference(real), ref MemoryMarshal.GetReference(imaginary), ref inverseTurns.Start, half);
        ref float lanes = ref TransformLanes(source);
        SignalTarget target = new(ref MemoryMarshal.GetReference(signal));
        CrossLanePass.Run(ref lanes, target, ref crossTwiddles.Start, laneLength);
    }

    private ref float TransformLanes<TSource>(TSource source)
        where TSource : struct, IComplexSource, allows ref struct
    {
        RadixPasses.First(source, ref first.Start, ref twiddles[0].Start, laneLength);
        AlignedMemory<float> from = first;
        AlignedMemory<float> to = second;
        nint length = laneLength / 4;
        nint stride = 4;
        for (int pass = 1; length > 8; pass++)
        {
            RadixPasses.Middle(ref from.Start, ref to.Start, ref twiddles[pass].Start, length, stride);
            (from, to) = (to, from);
            length /= 4;
            stride *= 4;
        }

        switch (length)
        {
            case 8:
                RadixPasses.LastOfEight(ref from.Start, ref to.Start, stride);
                break;
            case 4:
                RadixPasses.LastOfFour(ref from.Start, ref to.Start, stride);
                break;
            default:
                RadixPasses.LastOfTwo(ref from.Start, ref to.Start, stride);
                break;
        }

        return ref to.Start;
    }

    /// <summary>
    /// Makes the half spectrum of the real signal from the transform of its samples taken as complex numbers, in place:
    /// X[k] = (Z[k] + Z*[M−k])/2 − i/2·e^(−2πik/N)·(Z[k] − Z*[M−k]); Sorensen et al. 1987, section II.
    /// </summary>
    private void Untangle(ref float real, ref float imaginary)
    {
        float sum = real + imaginary;
        float difference = real - imaginary;
        Vector256<float> oneHalf = Vector256.Create(0.5f);
        ref float turns = ref forwardTurns.Start;
        for (nuint block = 0; block < (nuint)half / 2; block += ComplexLanes.Count)
        {
            nuint k = block + 1;
            nuint mirrored = (nuint)half - block - ComplexLanes.Count;
            Vector256<float> re = Vector256.LoadUnsafe(ref real, k);
            Vector256<float> im = Vector256.LoadUnsafe(ref imaginary, k);
            Vector256<float> mirrorRe = LaneShuffles.Reverse(Vector256.LoadUnsafe(ref real, mirrored));
            Vector256<float> mirrorIm = LaneShuffles.Reverse(Vector256.LoadUnsafe(ref imaginary, mirrored));
            ComplexLanes odd = new ComplexLanes(im + mirrorIm, mirrorRe - re).Times(
                Vector256.LoadUnsafe(ref turns, block * 2),
                Vector256.LoadUnsafe(ref turns, block * 2 + ComplexLanes.Count));
            Vector256<float> evenRe = re + mirrorRe;
            Vector256<float> evenIm = im - mirrorIm;
            Vector256.FusedMultiplyAdd(evenRe, oneHalf, odd.Re).StoreUnsafe(ref real, k);
            Vector256.FusedMultiplyAdd(evenIm, oneHalf, odd.Im).StoreUnsafe(ref imaginary, k);
            LaneShuffles.Reverse(Vector256.FusedMultiplyAdd(evenRe, oneHalf, -odd.Re)).StoreUnsafe(ref real, mirrored);
            LaneShuffles.Reverse(odd.Im - evenIm * oneHalf).StoreUnsafe(ref imaginary, mirrored);
        }

        real = sum;
        imaginary = 0;
        Unsafe.Add(ref real, half) = difference;
        Unsafe.Add(ref imaginary, half) = 0;
    }
}
