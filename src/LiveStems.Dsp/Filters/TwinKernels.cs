using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Runs the sections of two cascades over frames of four lanes, in place, two sections in the halves of a vector: the upper
/// one hears what the lower one made of the frame before.
/// </summary>
/// <remarks>
/// Six sections go through the stretch together, each a frame behind the one before it. Before all of them are at work, and
/// when the first have come to the end, they run one by one. The operations are those of <see cref="GroupKernels"/>.
/// </remarks>
internal static class TwinKernels
{
    /// <summary>With fewer places than this, <see cref="GroupKernels"/> goes over the frames as seldom.</summary>
    public const int FewestPlaces = 4;

    private const int Together = 6;
    private const int VectorsTogether = Together / 2;

    /// <summary>Vectors that so many places fill, those included that pass the sound on.</summary>
    public static int VectorsFor(int places) => (places + Together - 1) / Together * VectorsTogether;

    /// <summary>Vectors as their halves.</summary>
    public static Span<Vector256<double>> Halves(Span<Vector512<double>> vectors) =>
        MemoryMarshal.Cast<Vector512<double>, Vector256<double>>(vectors);

    /// <summary>Runs the places from the first on.</summary>
    public static void Run(
        Span<Vector256<double>> frames, Span<Vector512<double>> coefficients, Span<Vector512<double>> states, int places)
    {
        for (int first = 0; first < VectorsFor(places); first += VectorsTogether)
        {
            Six(
                frames,
                coefficients.Slice(first * GroupKernels.CoefficientsAPlace, VectorsTogether * GroupKernels.CoefficientsAPlace),
                states.Slice(first * GroupKernels.StatesAPlace, VectorsTogether * GroupKernels.StatesAPlace));
        }
    }

    private static void Six(Span<Vector256<double>> frames, Span<Vector512<double>> coefficients, Span<Vector512<double>> states)
    {
        Sections sections = new(Halves(coefficients), Halves(states));
        if (frames.Length < Together)
        {
            foreach (ref Vector256<double> frame in frames)
            {
                frame = sections.Run(frame, 0, Together);
            }

            return;
        }

        // What waits in front of each section but the first; the last place is never waited in.
        Span<Vector256<double>> waiting = stackalloc Vector256<double>[Together];
        waiting.Clear();
        for (int t = 0; t < Together - 1; t++)
        {
            waiting[Together - 2 - t] = sections.Run(frames[t], 0, Together - 1 - t);
        }

        AllAtWork(frames, ref MemoryMarshal.GetReference(coefficients), ref MemoryMarshal.GetReference(states), waiting);
        for (int section = Together - 1; section > 0; section--)
        {
            frames[^section] = sections.Run(waiting[section - 1], section, Together);
        }
    }

    // Every coefficient is a local of its own: only then do they all stay in registers.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void AllAtWork(
        Span<Vector256<double>> frames, ref Vector512<double> coefficients, ref Vector512<double> states, Span<Vector256<double>> waiting)
    {
        Vector512<double> toR0 = coefficients, toS0 = At(ref coefficients, 1), x0 = At(ref coefficients, 2);
        Vector512<double> v0 = At(ref coefficients, 3), w0 = At(ref coefficients, 4);
        Vector512<double> toR1 = At(ref coefficients, 5), toS1 = At(ref coefficients, 6), x1 = At(ref coefficients, 7);
        Vector512<double> v1 = At(ref coefficients, 8), w1 = At(ref coefficients, 9);
        Vector512<double> toR2 = At(ref coefficients, 10), toS2 = At(ref coefficients, 11), x2 = At(ref coefficients, 12);
        Vector512<double> v2 = At(ref coefficients, 13), w2 = At(ref coefficients, 14);
        Vector512<double> r0 = states, s0 = At(ref states, 1);
        Vector512<double> r1 = At(ref states, 2), s1 = At(ref states, 3);
        Vector512<double> r2 = At(ref states, 4), s2 = At(ref states, 5);
        ref Vector256<double> frame = ref MemoryMarshal.GetReference(frames);
        ref Vector512<double> pairs = ref Unsafe.As<Vector256<double>, Vector512<double>>(ref MemoryMarshal.GetReference(waiting));
        Vector512<double> y0 = pairs, y1 = At(ref pairs, 1), y2 = At(ref pairs, 2);
        int count = frames.Length;
        for (int t = Together - 1; t < count; t++)
        {
            ref Vector256<double> now = ref Unsafe.Add(ref frame, t);
            y2 = GroupKernels.Section(Avx512F.Shuffle4x128(y1, y2, 0x4E), ref r2, ref s2, toR2, toS2, x2, v2, w2);
            y1 = GroupKernels.Section(Avx512F.Shuffle4x128(y0, y1, 0x4E), ref r1, ref s1, toR1, toS1, x1, v1, w1);
            y0 = GroupKernels.Section(Vector512.Create(now, y0.GetLower()), ref r0, ref s0, toR0, toS0, x0, v0, w0);
            Unsafe.Subtract(ref now, Together - 1) = y2.GetUpper();
        }

        (pairs, Unsafe.Add(ref pairs, 1), Unsafe.Add(ref pairs, 2)) = (y0, y1, y2);
        (states, Unsafe.Add(ref states, 1)) = (r0, s0);
        (Unsafe.Add(ref states, 2), Unsafe.Add(ref states, 3)) = (r1, s1);
        (Unsafe.Add(ref states, 4), Unsafe.Add(ref states, 5)) = (r2, s2);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> At(ref Vector512<double> vectors, int index) => Unsafe.Add(ref vectors, index);

    // Six sections one by one. The halves of vector v hold section 2v below and 2v + 1 above.
    private readonly ref struct Sections(Span<Vector256<double>> coefficients, Span<Vector256<double>> states)
    {
        private readonly ref Vector256<double> coefficients = ref MemoryMarshal.GetReference(coefficients);
        private readonly ref Vector256<double> states = ref MemoryMarshal.GetReference(states);

        public Vector256<double> Run(Vector256<double> x, int first, int end)
        {
            for (int section = first; section < end; section++)
            {
                ref Vector256<double> c = ref Unsafe.Add(ref coefficients, (section & -2) * GroupKernels.CoefficientsAPlace + (section & 1));
                ref Vector256<double> state = ref Unsafe.Add(ref states, (section & -2) * GroupKernels.StatesAPlace + (section & 1));
                Vector256<double> r = state, s = Unsafe.Add(ref state, 2);
                Vector256<double> v = x + r;
                x = Vector256.FusedMultiplyAdd(Unsafe.Add(ref c, 6), v, Vector256.FusedMultiplyAdd(Unsafe.Add(ref c, 4), x, Unsafe.Add(ref c, 8) * s));
                state = Vector256.FusedMultiplyAdd(c, v, s);
                Unsafe.Add(ref state, 2) = Vector256.FusedMultiplyAdd(Unsafe.Add(ref c, 2), v, r);
            }

            return x;
        }
    }
}
