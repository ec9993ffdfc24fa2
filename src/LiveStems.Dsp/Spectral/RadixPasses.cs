using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Spectral;

/// <summary>Where the first pass of a transform finds its input.</summary>
internal interface IComplexSource
{
    /// <summary>The complex numbers 8·<paramref name="block"/> to 8·<paramref name="block"/> + 7.</summary>
    ComplexLanes Load(nint block);
}

/// <summary>
/// Passes of Stockham's self-sorting transform, decimation in frequency: C. Van Loan, Computational Frameworks for the
/// Fast Fourier Transform, section 1.7. Eight transforms run side by side, one in each lane.
/// </summary>
/// <remarks>
/// A pass of radix 4 turns <c>stride</c> sequences of <c>length</c> into 4·stride sequences of length/4: element q of
/// sequence position p sits at q + stride·p. Twiddles are three complex factors e^(−2πi·jp/length), j = 1…3, for each p.
/// </remarks>
internal static class RadixPasses
{
    /// <summary>The first radix-4 pass, of one sequence in each lane, read from a source.</summary>
    public static void First<TSource>(in TSource source, ref float target, ref float twiddles, nint length)
        where TSource : struct, IComplexSource, allows ref struct
    {
        nint quarter = length / 4;
        for (nint p = 0; p < quarter; p++)
        {
            ComplexLanes a = source.Load(p);
            ComplexLanes b = source.Load(p + quarter);
            ComplexLanes c = source.Load(p + 2 * quarter);
            ComplexLanes d = source.Load(p + 3 * quarter);
            ref float factors = ref Unsafe.Add(ref twiddles, 6 * p);
            ref float output = ref Unsafe.Add(ref target, 4 * p * ComplexLanes.Floats);
            Twiddled(a, b, c, d, ref factors, ref output, ComplexLanes.Floats);
        }
    }

    /// <summary>A radix-4 pass from memory to memory.</summary>
    public static void Middle(ref float source, ref float target, ref float twiddles, nint length, nint stride)
    {
        nint quarter = length / 4;
        nint step = stride * ComplexLanes.Floats;
        for (nint p = 0; p < quarter; p++)
        {
            ref float first = ref Unsafe.Add(ref source, p * step);
            ref float second = ref Unsafe.Add(ref first, quarter * step);
            ref float third = ref Unsafe.Add(ref second, quarter * step);
            ref float fourth = ref Unsafe.Add(ref third, quarter * step);
            ref float output = ref Unsafe.Add(ref target, 4 * p * step);
            ref float factors = ref Unsafe.Add(ref twiddles, 6 * p);
            for (nint q = 0; q < step; q += ComplexLanes.Floats)
            {
                Twiddled(
                    ComplexLanes.Load(ref first, q),
                    ComplexLanes.Load(ref second, q),
                    ComplexLanes.Load(ref third, q),
                    ComplexLanes.Load(ref fourth, q),
                    ref factors,
                    ref Unsafe.Add(ref output, q),
                    step);
            }
        }
    }

    /// <summary>The last radix-4 pass, of sequences of 4, which needs no twiddles.</summary>
    public static void LastOfFour(ref float source, ref float target, nint stride)
    {
        nint step = stride * ComplexLanes.Floats;
        ref float second = ref Unsafe.Add(ref source, step);
        ref float third = ref Unsafe.Add(ref second, step);
        ref float fourth = ref Unsafe.Add(ref third, step);
        ref float output2 = ref Unsafe.Add(ref target, step);
        ref float output3 = ref Unsafe.Add(ref output2, step);
        ref float output4 = ref Unsafe.Add(ref output3, step);
        for (nint q = 0; q < step; q += ComplexLanes.Floats)
        {
            ComplexLanes a = ComplexLanes.Load(ref source, q);
            ComplexLanes b = ComplexLanes.Load(ref second, q);
            ComplexLanes c = ComplexLanes.Load(ref third, q);
            ComplexLanes d = ComplexLanes.Load(ref fourth, q);
            ComplexLanes even = a + c;
            ComplexLanes odd = a - c;
            ComplexLanes cross = b - d;
            b += d;
            (even + b).Store(ref target, q);
            odd.MinusI(cross).Store(ref output2, q);
            (even - b).Store(ref output3, q);
            odd.PlusI(cross).Store(ref output4, q);
        }
    }

    /// <summary>The last pass of sequences of 2.</summary>
    public static void LastOfTwo(ref float source, ref float target, nint stride)
    {
        nint step = stride * ComplexLanes.Floats;
        ref float second = ref Unsafe.Add(ref source, step);
        ref float output2 = ref Unsafe.Add(ref target, step);
        for (nint q = 0; q < step; q += ComplexLanes.Floats)
        {
            ComplexLanes a = ComplexLanes.Load(ref source, q);
            ComplexLanes b = ComplexLanes.Load(ref second, q);
            (a + b).Store(ref target, q);
            (a - b).Store(ref output2, q);
        }
    }

    /// <summary>The last pass of sequences of 8, a step of radix 8.</summary>
    public static void LastOfEight(ref float source, ref float target, nint stride)
    {
        nint step = stride * ComplexLanes.Floats;
        for (nint q = 0; q < step; q += ComplexLanes.Floats)
        {
            ref float lower = ref Unsafe.Add(ref source, q);
            ref float upper = ref Unsafe.Add(ref lower, 4 * step);
            ComplexLanes x0 = ComplexLanes.Load(ref lower, 0);
            ComplexLanes x2 = ComplexLanes.Load(ref lower, 2 * step);
            ComplexLanes x4 = ComplexLanes.Load(ref upper, 0);
            ComplexLanes x6 = ComplexLanes.Load(ref upper, 2 * step);
            Butterfly8.Even(ref x0, ref x2, ref x4, ref x6);
            ComplexLanes x1 = ComplexLanes.Load(ref lower, step);
            ComplexLanes x3 = ComplexLanes.Load(ref lower, 3 * step);
            ComplexLanes x5 = ComplexLanes.Load(ref upper, step);
            ComplexLanes x7 = ComplexLanes.Load(ref upper, 3 * step);
            Butterfly8.Odd(ref x1, ref x3, ref x5, ref x7);
            ref float output = ref Unsafe.Add(ref target, q);
            ref float upperOutput = ref Unsafe.Add(ref output, 4 * step);
            (x0 + x1).Store(ref output, 0);
            (x2 + x3).Store(ref output, step);
            x4.MinusI(x5).Store(ref output, 2 * step);
            (x6 + x7).Store(ref output, 3 * step);
            (x0 - x1).Store(ref upperOutput, 0);
            (x2 - x3).Store(ref upperOutput, step);
            x4.PlusI(x5).Store(ref upperOutput, 2 * step);
            (x6 - x7).Store(ref upperOutput, 3 * step);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Twiddled(
        ComplexLanes a, ComplexLanes b, ComplexLanes c, ComplexLanes d, ref float factors, ref float target, nint step)
    {
        ComplexLanes even = a + c;
        ComplexLanes odd = a - c;
        ComplexLanes cross = b - d;
        b += d;
        (even + b).Store(ref target, 0);
        odd.MinusI(cross).Times(Vector256.Create(factors), Vector256.Create(Unsafe.Add(ref factors, 1))).Store(ref target, step);
        (even - b).Times(Vector256.Create(Unsafe.Add(ref factors, 2)), Vector256.Create(Unsafe.Add(ref factors, 3)))
            .Store(ref target, 2 * step);
        odd.PlusI(cross).Times(Vector256.Create(Unsafe.Add(ref factors, 4)), Vector256.Create(Unsafe.Add(ref factors, 5)))
            .Store(ref target, 3 * step);
    }
}
