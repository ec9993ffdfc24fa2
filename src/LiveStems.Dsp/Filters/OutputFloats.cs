using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>Double results as floats for the next processor: rounded to nearest, subnormal ones to 0.</summary>
internal static class OutputFloats
{
    private const float SmallestNormal = 1.17549435e-38f;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static float Narrow(double value)
    {
        float rounded = (float)value;
        return MathF.Abs(rounded) < SmallestNormal ? 0 : rounded;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector128<float> Narrow(Vector128<double> lower, Vector128<double> upper)
    {
        Vector128<float> rounded = Vector128.Narrow(lower, upper);
        Vector128<float> tiny = Vector128.LessThan(Vector128.Abs(rounded), Vector128.Create(SmallestNormal));
        return Vector128.AndNot(rounded, tiny);
    }

    /// <summary>Multiplies sound by a gain that stands still, in double.</summary>
    public static void Multiply(Span<float> sound, double gain)
    {
        Span<Vector128<float>> fours = MemoryMarshal.Cast<float, Vector128<float>>(sound);
        Vector128<double> factor = Vector128.Create(gain);
        foreach (ref Vector128<float> four in fours)
        {
            four = Narrow(Vector128.WidenLower(four) * factor, Vector128.WidenUpper(four) * factor);
        }

        foreach (ref float sample in sound[(4 * fours.Length)..])
        {
            sample = Narrow(sample * gain);
        }
    }
}
