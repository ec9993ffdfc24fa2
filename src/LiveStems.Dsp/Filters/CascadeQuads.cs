using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// <see cref="CascadeKernels"/> with vectors twice as long: four sections share one, each two frames behind the one before it.
/// </summary>
/// <remarks>
/// A vector waits for all its lanes. One frame apart, every step would wait for the whole step before, sum and all; two frames
/// apart it waits for the recursion alone.
/// </remarks>
internal static class CascadeQuads
{
    private const int SectionsAQuad = 4;

    /// <summary>True where the machine has the vectors.</summary>
    public static bool IsSupported => Avx512F.IsSupported && Vector512.IsHardwareAccelerated;

    /// <summary>Frames that the last section is behind the first.</summary>
    public static int Lag(int pairs) => 2 * (Quads(pairs) * SectionsAQuad - 1);

    /// <summary>Runs two to four pairs over more frames than <see cref="Lag"/>, in place.</summary>
    public static void Run(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s)
    {
        int lag = Lag(stages.Length);
        for (int j = 0; j < stages.Length; j++)
        {
            stages[j].RunFirst(frames[..(lag - 4 * j)], ref r[j], ref s[j]);
            stages[j].RunSecond(frames[..(lag - 4 * j - 2)], ref r[j], ref s[j]);
        }

        if (stages.Length == 2)
        {
            OneQuad(frames, stages, r, s, lag);
        }
        else
        {
            TwoQuads(frames, stages, r, s, lag);
        }

        for (int j = 0; j < stages.Length; j++)
        {
            stages[j].RunFirst(frames[^(4 * j)..], ref r[j], ref s[j]);
            stages[j].RunSecond(frames[^(4 * j + 2)..], ref r[j], ref s[j]);
        }
    }

    private static int Quads(int pairs) => (pairs + 1) / 2;

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void OneQuad(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s, int lag)
    {
        Quad c = new(stages[0], stages[1]);
        Vector512<double> r0 = Vector512.Create(r[0], r[1]), s0 = Vector512.Create(s[0], s[1]);
        Vector512<double> older = Waiting(frames, lag - 2, 0), newer = Waiting(frames, lag - 1, 0);
        ref Vector128<double> frame = ref MemoryMarshal.GetReference(frames);
        for (int t = lag; t < frames.Length; t++)
        {
            Vector512<double> x = Behind(older, EndingWith(ref Unsafe.Add(ref frame, t)));
            older = newer;
            newer = c.Run(x, ref r0, ref s0);
            Unsafe.Add(ref frame, t - lag) = newer.GetUpper().GetUpper();
        }

        (r[0], r[1]) = (r0.GetLower(), r0.GetUpper());
        (s[0], s[1]) = (s0.GetLower(), s0.GetUpper());
        Keep(frames, older, 2, 0, SectionsAQuad - 1);
        Keep(frames, newer, 1, 0, SectionsAQuad - 1);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void TwoQuads(
        Span<Vector128<double>> frames, ReadOnlySpan<StageCoefficients> stages, Span<Vector256<double>> r, Span<Vector256<double>> s, int lag)
    {
        bool isWhole = stages.Length > 3;
        Quad c0 = new(stages[0], stages[1]);
        Quad c1 = new(stages[2], isWhole ? stages[3] : StageCoefficients.Passing);
        Vector512<double> r0 = Vector512.Create(r[0], r[1]), s0 = Vector512.Create(s[0], s[1]);
        Vector512<double> r1 = Vector512.Create(r[2], isWhole ? r[3] : default), s1 = Vector512.Create(s[2], isWhole ? s[3] : default);
        Vector512<double> older0 = Waiting(frames, lag - 2, 0), newer0 = Waiting(frames, lag - 1, 0);
        Vector512<double> older1 = Waiting(frames, lag - 2, SectionsAQuad), newer1 = Waiting(frames, lag - 1, SectionsAQuad);
        ref Vector128<double> frame = ref MemoryMarshal.GetReference(frames);
        for (int t = lag; t < frames.Length; t++)
        {
            Vector512<double> x1 = Behind(older1, older0);
            Vector512<double> x0 = Behind(older0, EndingWith(ref Unsafe.Add(ref frame, t)));
            (older0, older1) = (newer0, newer1);
            newer1 = c1.Run(x1, ref r1, ref s1);
            newer0 = c0.Run(x0, ref r0, ref s0);
            Unsafe.Add(ref frame, t - lag) = newer1.GetUpper().GetUpper();
        }

        (r[0], r[1], r[2]) = (r0.GetLower(), r0.GetUpper(), r1.GetLower());
        (s[0], s[1], s[2]) = (s0.GetLower(), s0.GetUpper(), s1.GetLower());
        if (isWhole)
        {
            (r[3], s[3]) = (r1.GetUpper(), s1.GetUpper());
        }

        Keep(frames, older0, 2, 0, SectionsAQuad);
        Keep(frames, newer0, 1, 0, SectionsAQuad);
        Keep(frames, older1, 2, SectionsAQuad, SectionsAQuad - 1);
        Keep(frames, newer1, 1, SectionsAQuad, SectionsAQuad - 1);
    }

    // Each section takes what the one before it gave; the first takes the last lanes of the other vector.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> Behind(Vector512<double> sections, Vector512<double> before) =>
        Avx512F.AlignRight64(sections.AsInt64(), before.AsInt64(), 6).AsDouble();

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<double> EndingWith(ref Vector128<double> frame) =>
        Vector512.LoadUnsafe(ref Unsafe.As<Vector128<double>, double>(ref Unsafe.Subtract(ref frame, SectionsAQuad - 1)));

    // What the sections gave at a step before the first common one: it waits in their frames. The last has given nothing.
    private static Vector512<double> Waiting(ReadOnlySpan<Vector128<double>> frames, int newest, int firstSection) => Vector512.Create(
        Vector256.Create(At(frames, newest - 2 * firstSection), At(frames, newest - 2 * (firstSection + 1))),
        Vector256.Create(At(frames, newest - 2 * (firstSection + 2)), At(frames, newest - 2 * (firstSection + 3))));

    private static Vector128<double> At(ReadOnlySpan<Vector128<double>> frames, int index) => index < 0 ? default : frames[index];

    // Puts back what the sections gave at one of the last two common steps.
    private static void Keep(Span<Vector128<double>> frames, Vector512<double> y, int fromEnd, int firstSection, int count)
    {
        for (int k = 0; k < count; k++)
        {
            frames[^(fromEnd + 2 * (firstSection + k))] = Vector128.Create(y.GetElement(2 * k), y.GetElement(2 * k + 1));
        }
    }

    private readonly struct Quad(in StageCoefficients first, in StageCoefficients second)
    {
        private readonly Vector512<double> toR = Vector512.Create(first.ToR, second.ToR);
        private readonly Vector512<double> toS = Vector512.Create(first.ToS, second.ToS);
        private readonly Vector512<double> fromX = Vector512.Create(first.FromX, second.FromX);
        private readonly Vector512<double> fromV = Vector512.Create(first.FromV, second.FromV);
        private readonly Vector512<double> fromS = Vector512.Create(first.FromS, second.FromS);

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> Run(Vector512<double> x, ref Vector512<double> r, ref Vector512<double> s)
        {
            Vector512<double> v = x + r;
            Vector512<double> y = Vector512.FusedMultiplyAdd(fromV, v, Vector512.FusedMultiplyAdd(fromX, x, fromS * s));
            Vector512<double> next = Vector512.FusedMultiplyAdd(toR, v, s);
            s = Vector512.FusedMultiplyAdd(toS, v, r);
            r = next;
            return y;
        }
    }
}
