using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Spectral;

/// <summary>The discrete Fourier transform of eight numbers, for eight lanes at a time.</summary>
internal static class Butterfly8
{
    private const float HalfRoot = 0.70710678118654752f;

    /// <summary>The even half: the transform of numbers 0, 2, 4 and 6.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Even(ref ComplexLanes x0, ref ComplexLanes x2, ref ComplexLanes x4, ref ComplexLanes x6)
    {
        ComplexLanes a = x0 + x4;
        ComplexLanes b = x0 - x4;
        ComplexLanes c = x2 + x6;
        ComplexLanes d = x2 - x6;
        x0 = a + c;
        x2 = b.MinusI(d);
        x4 = a - c;
        x6 = b.PlusI(d);
    }

    /// <summary>The odd half: the transform of numbers 1, 3, 5 and 7, turned by the eighth roots of one; that of i is left to do.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Odd(ref ComplexLanes x1, ref ComplexLanes x3, ref ComplexLanes x5, ref ComplexLanes x7)
    {
        Even(ref x1, ref x3, ref x5, ref x7);

        // (1 − i)/√2 and (−1 − i)/√2.
        Vector256<float> root = Vector256.Create(HalfRoot);
        x3 = new ComplexLanes((x3.Re + x3.Im) * root, (x3.Im - x3.Re) * root);
        x7 = new ComplexLanes((x7.Im - x7.Re) * root, (x7.Re + x7.Im) * -root);
    }
}
