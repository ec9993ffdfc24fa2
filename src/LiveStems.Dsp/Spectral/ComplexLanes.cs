using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Spectral;

/// <summary>Eight complex numbers: in memory eight real parts, then eight imaginary parts, one cache line.</summary>
internal readonly struct ComplexLanes(Vector256<float> re, Vector256<float> im)
{
    public const int Count = 8;
    public const int Floats = 16;

    public readonly Vector256<float> Re = re;
    public readonly Vector256<float> Im = im;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ComplexLanes operator +(ComplexLanes a, ComplexLanes b) => new(a.Re + b.Re, a.Im + b.Im);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ComplexLanes operator -(ComplexLanes a, ComplexLanes b) => new(a.Re - b.Re, a.Im - b.Im);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ComplexLanes Load(ref float source, nint offset) => new(
        Vector256.LoadUnsafe(ref source, (nuint)offset),
        Vector256.LoadUnsafe(ref source, (nuint)(offset + Count)));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Store(ref float target, nint offset)
    {
        Re.StoreUnsafe(ref target, (nuint)offset);
        Im.StoreUnsafe(ref target, (nuint)(offset + Count));
    }

    /// <summary>This + (−i)·<paramref name="other"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public ComplexLanes MinusI(ComplexLanes other) => new(Re + other.Im, Im - other.Re);

    /// <summary>This + i·<paramref name="other"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public ComplexLanes PlusI(ComplexLanes other) => new(Re - other.Im, Im + other.Re);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public ComplexLanes Times(Vector256<float> re, Vector256<float> im) => new(
        Vector256.FusedMultiplyAdd(Re, re, -(Im * im)),
        Vector256.FusedMultiplyAdd(Re, im, Im * re));
}
