using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// A mean over the last N values with triangular weights, as two running sums that never drift.
/// </summary>
/// <remarks>
/// Values are rounded to whole multiples of <see cref="Grain"/>. Sums of those are exact in double up to 2^53 grains, so
/// what a running sum adds it later takes away to the last bit, and eight values may be summed in any order: values below
/// 512 and lengths below 4096 reach 2^51. The weights are those of a boxcar of n1 after one of n2, n1 + n2 − 1 = N: not
/// negative, and their sum is 1.
/// </remarks>
internal sealed class TriangularMean
{
    /// <summary>2^-20, the unit that values are rounded to.</summary>
    public const double Grain = 1.0 / (1 << 20);

    // Adding and taking away 1.5 · 2^52 grains rounds to whole grains.
    private const double RoundingShift = 6755399441055744.0 * Grain;

    private readonly Boxcar values;
    private readonly Boxcar sums;
    private readonly double scale;

    /// <summary>A mean over N values, 1 to 4095, all zero so far.</summary>
    /// <param name="length">N.</param>
    /// <param name="maximumValues">The longest run handed over at once.</param>
    public TriangularMean(int length, int maximumValues)
    {
        int first = (length + 1) / 2;
        int second = length + 1 - first;
        values = new Boxcar(first, maximumValues);
        sums = new Boxcar(second, maximumValues);
        scale = 1.0 / ((double)first * second);
    }

    /// <summary>Only zeros before.</summary>
    public void Reset()
    {
        values.Reset();
        sums.Reset();
    }

    /// <summary>Takes the state of another mean of the same length.</summary>
    public void CopyFrom(TriangularMean other)
    {
        values.CopyFrom(other.values);
        sums.CopyFrom(other.sums);
    }

    /// <summary>Writes for each value, 0 to 511, the mean that ends with it; the values are used up.</summary>
    public void Process(Span<double> run, Span<float> means)
    {
        ref double first = ref MemoryMarshal.GetReference(run);
        ref float to = ref MemoryMarshal.GetReference(means[..run.Length]);
        Vector512<double> shift = Vector512.Create(RoundingShift);
        int i = 0;
        for (; i <= run.Length - Vector512<double>.Count; i += Vector512<double>.Count)
        {
            (Vector512.LoadUnsafe(ref first, (nuint)i) + shift - shift).StoreUnsafe(ref first, (nuint)i);
        }

        for (; i < run.Length; i++)
        {
            run[i] = run[i] + RoundingShift - RoundingShift;
        }

        values.Sum(run);
        sums.Sum(run);
        Vector256<double> share = Vector256.Create(scale);
        for (i = 0; i <= run.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            Vector256.Narrow(Vector256.LoadUnsafe(ref first, (nuint)i) * share, Vector256.LoadUnsafe(ref first, (nuint)i + 4) * share)
                .StoreUnsafe(ref to, (nuint)i);
        }

        for (; i < run.Length; i++)
        {
            means[i] = (float)(run[i] * scale);
        }
    }

    /// <summary>The sum of the last so many whole numbers of grains.</summary>
    private sealed class Boxcar(int length, int maximumValues)
    {
        private readonly int room = 2 * maximumValues;
        private readonly double[] memory = new double[length + 2 * maximumValues];
        private double sum;
        private int start;

        public void Reset()
        {
            Array.Clear(memory);
            sum = 0;
            start = 0;
        }

        public void CopyFrom(Boxcar other)
        {
            other.memory.CopyTo(memory, 0);
            (sum, start) = (other.sum, other.start);
        }

        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        public void Sum(Span<double> run)
        {
            if (start + run.Length > room)
            {
                memory.AsSpan(start, length).CopyTo(memory);
                start = 0;
            }

            run.CopyTo(memory.AsSpan(start + length));
            ref double old = ref memory[start];
            ref double now = ref MemoryMarshal.GetReference(run);
            int i = 0;
            if (Vector512.IsHardwareAccelerated)
            {
                Vector512<double> last = Vector512.Create(sum);
                for (; i <= run.Length - Vector512<double>.Count; i += Vector512<double>.Count)
                {
                    // Sums over one, two, four, eight values.
                    Vector512<double> changes = Vector512.LoadUnsafe(ref now, (nuint)i) - Vector512.LoadUnsafe(ref old, (nuint)i);
                    changes += Vector512.Shuffle(changes, Vector512.Create(0L, 0, 1, 2, 3, 4, 5, 6)) & Vector512.Create(0L, -1, -1, -1, -1, -1, -1, -1).AsDouble();
                    changes += Vector512.Shuffle(changes, Vector512.Create(0L, 0, 0, 1, 2, 3, 4, 5)) & Vector512.Create(0L, 0, -1, -1, -1, -1, -1, -1).AsDouble();
                    changes += Vector512.Shuffle(changes, Vector512.Create(0L, 0, 0, 0, 0, 1, 2, 3)) & Vector512.Create(0L, 0, 0, 0, -1, -1, -1, -1).AsDouble();
                    (changes + last).StoreUnsafe(ref now, (nuint)i);
                    last += Vector512.Shuffle(changes, Vector512.Create(7L, 7, 7, 7, 7, 7, 7, 7));
                }

                sum = last.ToScalar();
            }

            for (; i < run.Length; i++)
            {
                sum += run[i] - memory[start + i];
                run[i] = sum;
            }

            start += run.Length;
        }
    }
}
