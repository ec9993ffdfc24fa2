using System.Runtime.CompilerServices;

namespace LiveStems.Dsp.Spectral;

/// <summary>Two numbers: their sum and difference.</summary>
internal readonly struct ButterflyOfTwo : IEightButterfly
{
    public static int Radix => 2;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Run<TTurns>(ref double source, nint apart, ref double target, nint step, ref double turns)
        where TTurns : struct, IPassTurns
    {
        EightComplex a = EightComplex.Load(ref source, 0);
        EightComplex b = EightComplex.Load(ref source, apart);
        (a + b).Store(ref target, 0);
        TTurns.Apply(a - b, ref turns, 1).Store(ref target, step);
    }
}

/// <summary>Three numbers.</summary>
internal readonly struct ButterflyOfThree : IEightButterfly
{
    private const double Sine = 0.86602540378443864676;

    public static int Radix => 3;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Run<TTurns>(ref double source, nint apart, ref double target, nint step, ref double turns)
        where TTurns : struct, IPassTurns
    {
        EightComplex a = EightComplex.Load(ref source, 0);
        EightComplex b = EightComplex.Load(ref source, apart);
        EightComplex c = EightComplex.Load(ref source, 2 * apart);
        EightComplex sum = b + c;
        EightComplex cross = (b - c) * Sine;
        EightComplex middle = a.Plus(sum, -0.5);
        (a + sum).Store(ref target, 0);
        TTurns.Apply(middle.MinusI(cross), ref turns, 1).Store(ref target, step);
        TTurns.Apply(middle.PlusI(cross), ref turns, 2).Store(ref target, 2 * step);
    }
}

/// <summary>Four numbers.</summary>
internal readonly struct ButterflyOfFour : IEightButterfly
{
    public static int Radix => 4;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Run<TTurns>(ref double source, nint apart, ref double target, nint step, ref double turns)
        where TTurns : struct, IPassTurns
    {
        EightComplex a = EightComplex.Load(ref source, 0);
        EightComplex b = EightComplex.Load(ref source, apart);
        EightComplex c = EightComplex.Load(ref source, 2 * apart);
        EightComplex d = EightComplex.Load(ref source, 3 * apart);
        EightComplex even = a + c;
        EightComplex odd = a - c;
        EightComplex cross = b - d;
        b += d;
        (even + b).Store(ref target, 0);
        TTurns.Apply(odd.MinusI(cross), ref turns, 1).Store(ref target, step);
        TTurns.Apply(even - b, ref turns, 2).Store(ref target, 2 * step);
        TTurns.Apply(odd.PlusI(cross), ref turns, 3).Store(ref target, 3 * step);
    }
}

/// <summary>Five numbers: pairs that mirror each other share their sums and differences.</summary>
internal readonly struct ButterflyOfFive : IEightButterfly
{
    private const double Cosine1 = 0.30901699437494742410;
    private const double Cosine2 = -0.80901699437494742410;
    private const double Sine1 = 0.95105651629515357212;
    private const double Sine2 = 0.58778525229247312917;

    public static int Radix => 5;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Run<TTurns>(ref double source, nint apart, ref double target, nint step, ref double turns)
        where TTurns : struct, IPassTurns
    {
        EightComplex a = EightComplex.Load(ref source, 0);
        EightComplex b = EightComplex.Load(ref source, apart);
        EightComplex c = EightComplex.Load(ref source, 2 * apart);
        EightComplex d = EightComplex.Load(ref source, 3 * apart);
        EightComplex e = EightComplex.Load(ref source, 4 * apart);
        EightComplex outer = b + e;
        EightComplex inner = c + d;
        b -= e;
        c -= d;
        (a + outer + inner).Store(ref target, 0);
        EightComplex even = a.Plus(outer, Cosine1).Plus(inner, Cosine2);
        EightComplex odd = (b * Sine1).Plus(c, Sine2);
        TTurns.Apply(even.MinusI(odd), ref turns, 1).Store(ref target, step);
        TTurns.Apply(even.PlusI(odd), ref turns, 4).Store(ref target, 4 * step);
        even = a.Plus(outer, Cosine2).Plus(inner, Cosine1);
        odd = (b * Sine2).Plus(c, -Sine1);
        TTurns.Apply(even.MinusI(odd), ref turns, 2).Store(ref target, 2 * step);
        TTurns.Apply(even.PlusI(odd), ref turns, 3).Store(ref target, 3 * step);
    }
}

/// <summary>Seven numbers, in pairs as those of five.</summary>
internal readonly struct ButterflyOfSeven : IEightButterfly
{
    private const double Cosine1 = 0.62348980185873353053;
    private const double Cosine2 = -0.22252093395631440429;
    private const double Cosine3 = -0.90096886790241912624;
    private const double Sine1 = 0.78183148246802980871;
    private const double Sine2 = 0.97492791218182360702;
    private const double Sine3 = 0.43388373911755812048;

    public static int Radix => 7;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Run<TTurns>(ref double source, nint apart, ref double target, nint step, ref double turns)
        where TTurns : struct, IPassTurns
    {
        EightComplex a = EightComplex.Load(ref source, 0);
        EightComplex b = EightComplex.Load(ref source, apart);
        EightComplex c = EightComplex.Load(ref source, 2 * apart);
        EightComplex d = EightComplex.Load(ref source, 3 * apart);
        EightComplex e = EightComplex.Load(ref source, 4 * apart);
        EightComplex f = EightComplex.Load(ref source, 5 * apart);
        EightComplex g = EightComplex.Load(ref source, 6 * apart);
        EightComplex outer = b + g;
        EightComplex between = c + f;
        EightComplex inner = d + e;
        b -= g;
        c -= f;
        d -= e;
        (a + outer + between + inner).Store(ref target, 0);
        EightComplex even = a.Plus(outer, Cosine1).Plus(between, Cosine2).Plus(inner, Cosine3);
        EightComplex odd = (b * Sine1).Plus(c, Sine2).Plus(d, Sine3);
        TTurns.Apply(even.MinusI(odd), ref turns, 1).Store(ref target, step);
        TTurns.Apply(even.PlusI(odd), ref turns, 6).Store(ref target, 6 * step);
        even = a.Plus(outer, Cosine2).Plus(between, Cosine3).Plus(inner, Cosine1);
        odd = (b * Sine2).Plus(c, -Sine3).Plus(d, -Sine1);
        TTurns.Apply(even.MinusI(odd), ref turns, 2).Store(ref target, 2 * step);
        TTurns.Apply(even.PlusI(odd), ref turns, 5).Store(ref target, 5 * step);
        even = a.Plus(outer, Cosine3).Plus(between, Cosine1).Plus(inner, Cosine2);
        odd = (b * Sine3).Plus(c, -Sine1).Plus(d, Sine2);
        TTurns.Apply(even.MinusI(odd), ref turns, 3).Store(ref target, 3 * step);
        TTurns.Apply(even.PlusI(odd), ref turns, 4).Store(ref target, 4 * step);
    }
}

/// <summary>Eight numbers, as two fours and the eighth roots of one.</summary>
internal readonly struct ButterflyOfEight : IEightButterfly
{
    private const double HalfRoot = 0.70710678118654752440;

    public static int Radix => 8;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static void Run<TTurns>(ref double source, nint apart, ref double target, nint step, ref double turns)
        where TTurns : struct, IPassTurns
    {
        EightComplex x0 = EightComplex.Load(ref source, 0);
        EightComplex x2 = EightComplex.Load(ref source, 2 * apart);
        EightComplex x4 = EightComplex.Load(ref source, 4 * apart);
        EightComplex x6 = EightComplex.Load(ref source, 6 * apart);
        Four(ref x0, ref x2, ref x4, ref x6);
        EightComplex x1 = EightComplex.Load(ref source, apart);
        EightComplex x3 = EightComplex.Load(ref source, 3 * apart);
        EightComplex x5 = EightComplex.Load(ref source, 5 * apart);
        EightComplex x7 = EightComplex.Load(ref source, 7 * apart);
        Four(ref x1, ref x3, ref x5, ref x7);

        // (1 − i)/√2 and (−1 − i)/√2; x5 is turned by −i where it is used.
        x3 = new EightComplex(x3.Re + x3.Im, x3.Im - x3.Re) * HalfRoot;
        x7 = new EightComplex(x7.Im - x7.Re, -(x7.Re + x7.Im)) * HalfRoot;
        (x0 + x1).Store(ref target, 0);
        TTurns.Apply(x2 + x3, ref turns, 1).Store(ref target, step);
        TTurns.Apply(x4.MinusI(x5), ref turns, 2).Store(ref target, 2 * step);
        TTurns.Apply(x6 + x7, ref turns, 3).Store(ref target, 3 * step);
        TTurns.Apply(x0 - x1, ref turns, 4).Store(ref target, 4 * step);
        TTurns.Apply(x2 - x3, ref turns, 5).Store(ref target, 5 * step);
        TTurns.Apply(x4.PlusI(x5), ref turns, 6).Store(ref target, 6 * step);
        TTurns.Apply(x6 - x7, ref turns, 7).Store(ref target, 7 * step);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Four(ref EightComplex a, ref EightComplex b, ref EightComplex c, ref EightComplex d)
    {
        EightComplex even = a + c;
        EightComplex odd = a - c;
        EightComplex sum = b + d;
        EightComplex cross = b - d;
        a = even + sum;
        b = odd.MinusI(cross);
        c = even - sum;
        d = odd.PlusI(cross);
    }
}
