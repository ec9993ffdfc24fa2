using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Resampling;

/// <summary>Evaluates a row of cubics, whose coefficients lie one power after the other, at one point.</summary>
internal static class CubicRow
{
    public static void Evaluate(ReadOnlySpan<float> cubics, float at, Span<float> row)
    {
        int count = row.Length;
        ref float powers = ref MemoryMarshal.GetReference(cubics);
        ref float output = ref MemoryMarshal.GetReference(row);
        Vector256<float> point = Vector256.Create(at);
        int i = 0;
        for (; i <= count - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256<float> sum = Vector256.LoadUnsafe(ref powers, (nuint)(3 * count + i));
            sum = Vector256.FusedMultiplyAdd(sum, point, Vector256.LoadUnsafe(ref powers, (nuint)(2 * count + i)));
            sum = Vector256.FusedMultiplyAdd(sum, point, Vector256.LoadUnsafe(ref powers, (nuint)(count + i)));
            sum = Vector256.FusedMultiplyAdd(sum, point, Vector256.LoadUnsafe(ref powers, (nuint)i));
            sum.StoreUnsafe(ref output, (nuint)i);
        }

        for (; i < count; i++)
        {
            float sum = MathF.FusedMultiplyAdd(cubics[3 * count + i], at, cubics[2 * count + i]);
            sum = MathF.FusedMultiplyAdd(sum, at, cubics[count + i]);
            row[i] = MathF.FusedMultiplyAdd(sum, at, cubics[i]);
        }
    }

    public static void Evaluate(ReadOnlySpan<double> cubics, double at, Span<double> row)
    {
        int count = row.Length;
        ref double powers = ref MemoryMarshal.GetReference(cubics);
        ref double output = ref MemoryMarshal.GetReference(row);
        Vector256<double> point = Vector256.Create(at);
        int i = 0;
        for (; i <= count - Vector256<double>.Count; i += Vector256<double>.Count)
        {
            Vector256<double> sum = Vector256.LoadUnsafe(ref powers, (nuint)(3 * count + i));
            sum = Vector256.FusedMultiplyAdd(sum, point, Vector256.LoadUnsafe(ref powers, (nuint)(2 * count + i)));
            sum = Vector256.FusedMultiplyAdd(sum, point, Vector256.LoadUnsafe(ref powers, (nuint)(count + i)));
            sum = Vector256.FusedMultiplyAdd(sum, point, Vector256.LoadUnsafe(ref powers, (nuint)i));
            sum.StoreUnsafe(ref output, (nuint)i);
        }

        for (; i < count; i++)
        {
            double sum = Math.FusedMultiplyAdd(cubics[3 * count + i], at, cubics[2 * count + i]);
            sum = Math.FusedMultiplyAdd(sum, at, cubics[count + i]);
            row[i] = Math.FusedMultiplyAdd(sum, at, cubics[i]);
        }
    }
}
