using System.Runtime.CompilerServices;

namespace LiveStems.Dsp.Spectral;

/// <summary>The factors by which a pass turns what its butterflies give.</summary>
internal interface IPassTurns
{
    /// <summary>A number times factor <paramref name="index"/>, from 1 on.</summary>
    static abstract EightComplex Apply(EightComplex value, ref double turns, int index);
}

/// <summary>Factors from a table, re and im each.</summary>
internal readonly struct TableTurns : IPassTurns
{
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightComplex Apply(EightComplex value, ref double turns, int index) =>
        value.Times(Unsafe.Add(ref turns, 2 * index - 2), Unsafe.Add(ref turns, 2 * index - 1));
}

/// <summary>The last pass, which turns nothing.</summary>
internal readonly struct NoTurns : IPassTurns
{
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static EightComplex Apply(EightComplex value, ref double turns, int index) => value;
}

/// <summary>A short transform that is one step of a pass: reads its numbers <c>apart</c> and stores them a <c>step</c> apart.</summary>
internal interface IEightButterfly
{
    static abstract int Radix { get; }

    static abstract void Run<TTurns>(ref double source, nint apart, ref double target, nint step, ref double turns)
        where TTurns : struct, IPassTurns;
}

/// <summary>
/// A pass of Stockham's self-sorting transform, decimation in frequency, of any radix: C. Van Loan, Computational Frameworks
/// for the Fast Fourier Transform, sections 1.7 and 2.4. Eight signals run side by side, one in each lane.
/// </summary>
/// <remarks>
/// Turns <c>stride</c> sequences of <c>length</c> into radix·stride sequences of length/radix: element q of sequence position p
/// sits at q + stride·p. For each p the table has e^(−2πi·jp/length), j = 1…radix − 1.
/// </remarks>
internal static class EightPasses
{
    public static void Run<TButterfly, TTurns>(ref double source, ref double target, ref double turns, nint length, nint stride)
        where TButterfly : struct, IEightButterfly
        where TTurns : struct, IPassTurns
    {
        nint part = length / TButterfly.Radix;
        nint step = stride * EightComplex.Doubles;
        for (nint p = 0; p < part; p++)
        {
            ref double input = ref Unsafe.Add(ref source, p * step);
            ref double output = ref Unsafe.Add(ref target, TButterfly.Radix * p * step);
            ref double factors = ref Unsafe.Add(ref turns, 2 * (TButterfly.Radix - 1) * p);
            for (nint q = 0; q < step; q += EightComplex.Doubles)
            {
                TButterfly.Run<TTurns>(ref Unsafe.Add(ref input, q), part * step, ref Unsafe.Add(ref output, q), step, ref factors);
            }
        }
    }
}
