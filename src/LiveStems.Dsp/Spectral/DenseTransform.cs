using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Spectral;

/// <summary>A real transform of at most 64 samples by its definition: a product with a matrix of sines and cosines.</summary>
internal sealed class DenseTransform
{
    private const int Lanes = ComplexLanes.Count;

    private readonly int size;
    private readonly int bins;
    private readonly float[] forwardRe;
    private readonly float[] forwardIm;
    private readonly float[] inverseRe;
    private readonly float[] inverseIm;

    public DenseTransform(int size)
    {
        this.size = size;
        bins = size / 2 + 1;
        int binBlocks = (bins + Lanes - 1) / Lanes;
        forwardRe = new float[binBlocks * Lanes * size];
        forwardIm = new float[binBlocks * Lanes * size];
        inverseRe = new float[size * bins];
        inverseIm = new float[size * bins];
        for (int n = 0; n < size; n++)
        {
            for (int k = 0; k < bins; k++)
            {
                (double sin, double cos) = TwiddleTables.Turn((long)n * k, size);
                double share = (k == 0 || k == bins - 1 ? 1.0 : 2.0) / size;
                int forward = (k / Lanes * size + n) * Lanes + k % Lanes;
                forwardRe[forward] = (float)cos;
                forwardIm[forward] = (float)-sin;
                int inverse = (n / Lanes * bins + k) * Lanes + n % Lanes;
                inverseRe[inverse] = (float)(share * cos);
                inverseIm[inverse] = (float)(share * -sin);
            }
        }
    }

    public void Forward(ReadOnlySpan<float> signal, Span<float> real, Span<float> imaginary)
    {
        for (int k = 0; k < bins; k += Lanes)
        {
            Vector256<float> re = Product(forwardRe.AsSpan(k * size, size * Lanes), signal);
            Vector256<float> im = Product(forwardIm.AsSpan(k * size, size * Lanes), signal);
            if (k + Lanes <= bins)
            {
                re.CopyTo(real[k..]);
                im.CopyTo(imaginary[k..]);
            }
            else
            {
                // The Nyquist bin stands alone: N/2 is a multiple of the lanes.
                real[k] = re.ToScalar();
                imaginary[k] = im.ToScalar();
            }
        }
    }

    public void Inverse(ReadOnlySpan<float> real, ReadOnlySpan<float> imaginary, Span<float> signal)
    {
        for (int n = 0; n < size; n += Lanes)
        {
            Vector256<float> sum = Product(inverseRe.AsSpan(n * bins, bins * Lanes), real)
                + Product(inverseIm.AsSpan(n * bins, bins * Lanes), imaginary);
            sum.CopyTo(signal[n..]);
        }
    }

    /// <summary>The sum of rows of eight, each times its factor.</summary>
    private static Vector256<float> Product(ReadOnlySpan<float> rows, ReadOnlySpan<float> factors)
    {
        ref float row = ref MemoryMarshal.GetReference(rows);
        Vector256<float> even = default;
        Vector256<float> odd = default;
        int i = 0;
        for (; i < factors.Length - 1; i += 2)
        {
            even = Vector256.FusedMultiplyAdd(Row(ref row, i), Vector256.Create(factors[i]), even);
            odd = Vector256.FusedMultiplyAdd(Row(ref row, i + 1), Vector256.Create(factors[i + 1]), odd);
        }

        if (i < factors.Length)
        {
            even = Vector256.FusedMultiplyAdd(Row(ref row, i), Vector256.Create(factors[i]), even);
        }

        return even + odd;
    }

    private static Vector256<float> Row(ref float rows, int row) => Vector256.LoadUnsafe(ref rows, (nuint)(row * Lanes));
}
