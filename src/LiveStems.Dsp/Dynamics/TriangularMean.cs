using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// A mean over the last N values with triangular weights, two channels side by side, as two running sums that never
/// drift.
/// </summary>
/// <remarks>
/// Values are rounded to whole multiples of <see cref="Grain"/>. Sums of those are exact in double up to 2^53 grains, so
/// what a running sum adds it later takes away to the last bit: values below 512 and lengths below 4096 reach 2^51. The
/// weights are those of a boxcar of n1 after one of n2, n1 + n2 − 1 = N: not negative, and their sum is 1.
/// </remarks>
internal struct TriangularMean
{
    /// <summary>2^-20, the unit that values are rounded to.</summary>
    public const double Grain = 1.0 / (1 << 20);

    // Adding and taking away 1.5 · 2^52 grains rounds to whole grains.
    private const double RoundingShift = 6755399441055744.0 * Grain;

    private readonly Vector128<double>[] values;
    private readonly Vector128<double>[] sums;
    private readonly Vector128<double> scale;
    private Vector128<double> sum;
    private Vector128<double> sumOfSums;
    private int valueAt;
    private int sumAt;

    /// <summary>A mean over N values, 1 to 4095, all zero so far.</summary>
    public TriangularMean(int length)
    {
        values = new Vector128<double>[(length + 1) / 2];
        sums = new Vector128<double>[length + 1 - values.Length];
        scale = Vector128.Create(1.0 / ((double)values.Length * sums.Length));
    }

    /// <summary>Only zeros before.</summary>
    public void Reset()
    {
        Array.Clear(values);
        Array.Clear(sums);
        sum = Vector128<double>.Zero;
        sumOfSums = Vector128<double>.Zero;
        valueAt = 0;
        sumAt = 0;
    }

    /// <summary>The mean after one more value, 0 to 511.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
   public Vector128<double> Next(Vector128<double> value)
    {
        Vector128<double> whole = value + Vector128.Create(RoundingShift) - Vector128.Create(RoundingShift);
        ref Vector128<double> oldValue = ref values[valueAt];
        sum += whole - oldValue;
        oldValue = whole;
        ref Vector128<double> oldSum = ref sums[sumAt];
        sumOfSums += sum - oldSum;
        oldSum = sum;
        valueAt = valueAt + 1 == values.Length ? 0 : valueAt + 1;
        sumAt = sumAt + 1 == sums.Length ? 0 : sumAt + 1;
        return sumOfSums * scale;
    }
}
