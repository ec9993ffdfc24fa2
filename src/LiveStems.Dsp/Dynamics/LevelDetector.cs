using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>Levels in dB from magnitudes or mean powers, eight at a time.</summary>
public static class LevelDetector
{
    /// <summary>Nothing reads lower than this, dB.</summary>
    public const float FloorDb = -160;

    /// <summary>
    /// A mean power reads this much higher, dB, so that a sine has one level on both detectors: its peak (the AES17
    /// convention, where a full-scale sine is 0 dBFS RMS; from memory).
    /// </summary>
    public const float SinePowerOffsetDb = 3.0103f;

    private const float DbPerOctave = 6.0205999f;

    /// <summary>Level of each magnitude, dB re 1; from <see cref="FloorDb"/> to +120 dB, the floor for NaN.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> MagnitudeDb(Vector256<float> magnitude) =>
        VectorLog2.Of(Hold(magnitude, 1e-8f, 1e6f)) * Vector256.Create(DbPerOctave);

    /// <summary>
    /// Level of each mean power, dB re the power of a full-scale sine; from <see cref="FloorDb"/> to +120 dB, the floor
    /// for NaN.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<float> PowerDb(Vector256<float> power) => Vector256.FusedMultiplyAdd(
        VectorLog2.Of(Hold(power, 5e-17f, 5e11f)), Vector256.Create(DbPerOctave / 2), Vector256.Create(SinePowerOffsetDb));

    // Comparisons are false for NaN, so it ends at the floor on every machine; the machine's own minimum would not say.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Hold(Vector256<float> x, float floor, float ceiling)
    {
        Vector256<float> low = Vector256.Create(floor);
        Vector256<float> raised = Vector256.ConditionalSelect(Vector256.GreaterThan(x, low), x, low);
        return Vector256.MinNative(raised, Vector256.Create(ceiling));
    }

    /// <summary>Sixteen levels of magnitudes, bit for bit as eight.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> MagnitudeDb(Vector512<float> magnitude) =>
        VectorLog2.Of(Hold(magnitude, 1e-8f, 1e6f)) * Vector512.Create(DbPerOctave);

    /// <summary>Sixteen levels of mean powers, bit for bit as eight.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector512<float> PowerDb(Vector512<float> power) => Vector512.FusedMultiplyAdd(
        VectorLog2.Of(Hold(power, 5e-17f, 5e11f)), Vector512.Create(DbPerOctave / 2), Vector512.Create(SinePowerOffsetDb));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector512<float> Hold(Vector512<float> x, float floor, float ceiling)
    {
        Vector512<float> low = Vector512.Create(floor);
        Vector512<float> raised = Vector512.ConditionalSelect(Vector512.GreaterThan(x, low), x, low);
        return Vector512.MinNative(raised, Vector512.Create(ceiling));
    }
}
