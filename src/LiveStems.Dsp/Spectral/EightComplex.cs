using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// One complex number of each of eight signals in double precision: in memory eight real parts, then eight imaginary parts.
/// </summary>
internal readonly struct EightComplex(Vector512<double> re, Vector512<double> im)
{
    public const int Signals = 8;
    public const int Doubles = 16;

    public readonly Vector512<double> Re = re;
    public readonly Vector512<double> Im = im;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightComplex operator +(EightComplex a, EightComplex b) => new(a.Re + b.Re, a.Im + b.Im);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightComplex operator -(EightComplex a, EightComplex b) => new(a.Re - b.Re, a.Im - b.Im);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightComplex operator *(EightComplex a, double factor)
    {
        Vector512<double> factors = Vector512.Create(factor);
        return new(a.Re * factors, a.Im * factors);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightComplex Load(ref double source, nint offset) => new(
        Vector512.LoadUnsafe(ref source, (nuint)offset),
        Vector512.LoadUnsafe(ref source, (nuint)(offset + Signals)));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Store(ref double target, nint offset)
    {
        Re.StoreUnsafe(ref target, (nuint)offset);
        Im.StoreUnsafe(ref target, (nuint)(offset + Signals));
    }

    /// <summary>This + (−i)·<paramref name="other"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public EightComplex MinusI(EightComplex other) => new(Re + other.Im, Im - other.Re);

    /// <summary>This + i·<paramref name="other"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public EightComplex PlusI(EightComplex other) => new(Re - other.Im, Im + other.Re);

    /// <summary>This + <paramref name="factor"/>·<paramref name="other"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public EightComplex Plus(EightComplex other, double factor)
    {
        Vector512<double> factors = Vector512.Create(factor);
        return new(Vector512.FusedMultiplyAdd(other.Re, factors, Re), Vector512.FusedMultiplyAdd(other.Im, factors, Im));
    }

    /// <summary>This times one complex number for all signals.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public EightComplex Times(double re, double im)
    {
        (Vector512<double> real, Vector512<double> imaginary) = (Vector512.Create(re), Vector512.Create(im));
        return new(
            Vector512.FusedMultiplyAdd(Re, real, -(Im * imaginary)),
            Vector512.FusedMultiplyAdd(Re, imaginary, Im * real));
    }
}
