using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// What a section that moves is in each of the next frames: its coefficients lie on the straight line from one setting to
/// the next, so they stay those of a stable filter.
/// </summary>
internal sealed class GlideTable
{
    /// <summary>The most frames that the table holds.</summary>
    public const int Frames = 32;

    private const int Rows = 6;
    private readonly double[] values = Unmoved.Array<double>(Rows * Frames);

    /// <summary>Fills the table with a stretch of a glide.</summary>
    /// <param name="from">Where the glide began.</param>
    /// <param name="to">Where it ends; the last frame of the glide has exactly these coefficients.</param>
    /// <param name="position">Frames of the glide that are over.</param>
    /// <param name="length">Frames of the whole glide.</param>
    /// <param name="count">Frames that are wanted, to <see cref="Frames"/>.</param>
    public void Fill(in StateVariableCoefficients from, in StateVariableCoefficients to, int position, int length, int count)
    {
        Span<Vector256<double>> rows = MemoryMarshal.Cast<double, Vector256<double>>(values.AsSpan());
        const int RowVectors = Frames / 4;
        Vector256<double> whole = Vector256.Create((double)length);
        Vector256<double> part = Vector256.Create(1.0 / length);
        for (int i = 0; 4 * i < count; i++)
        {
            Vector256<double> place = Vector256.Create((double)(position + 4 * i)) + Vector256.Create(1.0, 2, 3, 4);
            Vector256<double> share = place * part;
            Vector256<double> isOver = Vector256.GreaterThanOrEqual(place, whole);
            Vector256<double> g = Between(from.G, to.G, share, isOver);
            Vector256<double> k = Between(from.K, to.K, share, isOver);
            Vector256<double> low = Between(from.Low, to.Low, share, isOver);
            Vector256<double> decay = Vector256<double>.One / Vector256.FusedMultiplyAdd(g, g + k, Vector256<double>.One);
            rows[i] = decay;
            rows[RowVectors + i] = g * decay;
            rows[2 * RowVectors + i] = g + g;
            rows[3 * RowVectors + i] = Between(from.Direct, to.Direct, share, isOver);
            rows[4 * RowVectors + i] = Vector256.FusedMultiplyAdd(low, g, Between(from.Band, to.Band, share, isOver));
            rows[5 * RowVectors + i] = low;
        }
    }

    /// <summary>One frame of the section, with the coefficients of a place in the table below <see cref="Frames"/>.</summary>
    /// <param name="n">The place.</param>
    /// <param name="x">Input.</param>
    /// <param name="band">State of the band integrators.</param>
    /// <param name="low">State of the low integrators.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector128<double> Run(int n, Vector128<double> x, ref Vector128<double> band, ref Vector128<double> low)
    {
        Vector128<double> v = Vector128.FusedMultiplyAdd(At(Frames + n), x - low, At(n) * band);
        Vector128<double> y = Vector128.FusedMultiplyAdd(
            At(4 * Frames + n), v, Vector128.FusedMultiplyAdd(At(3 * Frames + n), x, At(5 * Frames + n) * low));
        band = v + v - band;
        low = Vector128.FusedMultiplyAdd(At(2 * Frames + n), v, low);
        return y;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Vector128<double> At(int index) =>
        Vector128.Create(Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(values), index));

    private static Vector256<double> Between(double from, double to, Vector256<double> share, Vector256<double> isOver) =>
        Vector256.ConditionalSelect(
            isOver,
            Vector256.Create(to),
            Vector256.FusedMultiplyAdd(share, Vector256.Create(to - from), Vector256.Create(from)));
}
