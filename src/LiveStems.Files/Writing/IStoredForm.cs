using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Files.Writing;

/// <summary>Floats of full scale ±1 to what a file stores of them.</summary>
internal interface IStoredForm
{
    /// <summary>
    /// Turns four samples into 32-bit lanes whose low bytes are stored. Each that is out of range, NaN or infinite takes
    /// one from its lane of <paramref name="suspects"/>.
    /// </summary>
    Vector128<int> Store(Vector128<float> samples, ref Vector128<int> suspects);
}

/// <summary>Whole numbers of up to 24 bits, rounded to the nearest, ties to even, saturating.</summary>
internal readonly struct StoredIntegers(int bits) : IStoredForm
{
    private readonly Vector128<float> scale = Vector128.Create((float)(1 << (bits - 1)));
    private readonly Vector128<float> lowest = Vector128.Create((float)-(1 << (bits - 1)));
    private readonly Vector128<float> highest = Vector128.Create((float)((1 << (bits - 1)) - 1));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector128<int> Store(Vector128<float> samples, ref Vector128<int> suspects)
    {
        // Scaling by a power of two is exact, so this rounding is the only one.
        Vector128<float> rounded = Vector128.Round(samples * scale);
        Vector128<float> inRange = OwnInstructions.Within(rounded, lowest, highest);
        suspects += ~Vector128.Equals(inRange, rounded).AsInt32();
        return OwnInstructions.ToIntegers(inRange);
    }
}

/// <summary>Whole numbers of 32 bits: their highest, 2^31 − 1, is no float and so is put in after the conversion.</summary>
internal readonly struct StoredLongIntegers : IStoredForm
{
    private const float Scale = 2147483648f;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector128<int> Store(Vector128<float> samples, ref Vector128<int> suspects)
    {
        Vector128<float> rounded = Vector128.Round(samples * Scale);
        Vector128<int> below = Vector128.LessThan(rounded, Vector128.Create(-Scale)).AsInt32();
        Vector128<int> inRangeOrBelow = Vector128.LessThan(rounded, Vector128.Create(Scale)).AsInt32();
        suspects += below | ~inRangeOrBelow;
        Vector128<int> whole = OwnInstructions.ToIntegers(rounded);
        whole = Vector128.ConditionalSelect(below, Vector128.Create(int.MinValue), whole);
        return Vector128.ConditionalSelect(inRangeOrBelow, whole, Vector128.Create(int.MaxValue));
    }
}

/// <summary>Floats, bit for bit.</summary>
internal readonly struct StoredFloats : IStoredForm
{
    private const int LargestFinite = 0x7F7FFFFF;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector128<int> Store(Vector128<float> samples, ref Vector128<int> suspects)
    {
        Vector128<int> magnitudes = samples.AsInt32() & Vector128.Create(int.MaxValue);
        suspects += Vector128.GreaterThan(magnitudes, Vector128.Create(LargestFinite));
        return samples.AsInt32();
    }
}
