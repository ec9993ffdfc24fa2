using System.Numerics;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// The discrete Fourier transform of real signals of 16 to 65,536 samples, a power of two, in single precision.
/// </summary>
/// <remarks>
/// <para>
/// Forward, unscaled: X[k] = Σ x[n]·e^(−2πi·kn/N) for the <see cref="Bins"/> = N/2 + 1 bins from 0 to the Nyquist
/// frequency, real and imaginary parts in spans of their own. Inverse, scaled by 1/N, so that both in turn give the signal
/// back. The imaginary parts at both ends are 0, and are not read by <see cref="Inverse"/>.
/// </para>
/// <para>
/// A plan: the constructor takes all memory and the transforms allocate nothing. Its scratch memory is not shared, so one
/// thread at a time. Same bits from run to run on any processor.
/// </para>
/// </remarks>
public sealed class RealFourierTransform
{
    /// <summary>The smallest size.</summary>
    public const int SmallestSize = 16;

    /// <summary>The largest size.</summary>
    public const int LargestSize = 65_536;

    private readonly DenseTransform? dense;
    private readonly StockhamTransform? stockham;

    /// <summary>Computes the tables for one size and takes all memory.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The size is not a power of two from <see cref="SmallestSize"/> to <see cref="LargestSize"/>.</exception>
    public RealFourierTransform(int size)
    {
        if (!BitOperations.IsPow2(size) || size < SmallestSize || size > LargestSize)
        {
            throw new ArgumentOutOfRangeException(nameof(size), size, "a power of two from 16 to 65536 is needed");
        }

        Size = size;
        if (size < StockhamTransform.SmallestSize)
        {
            dense = new DenseTransform(size);
        }
        else
        {
            stockham = new StockhamTransform(size);
        }
    }

    /// <summary>Samples of the signal, N.</summary>
    public int Size { get; }

    /// <summary>Bins of the spectrum, N/2 + 1; bin k lies at k/N of the sample rate.</summary>
    public int Bins => Size / 2 + 1;

    /// <summary>
    /// From <see cref="Size"/> samples to <see cref="Bins"/> bins. The spans may be longer; they must not overlap.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A span is too short.</exception>
    public void Forward(ReadOnlySpan<float> signal, Span<float> real, Span<float> imaginary)
    {
        signal = signal[..Size];
        real = real[..Bins];
        imaginary = imaginary[..Bins];
        stockham?.Forward(signal, real, imaginary);
        dense?.Forward(signal, real, imaginary);
    }

    /// <summary>
    /// From <see cref="Bins"/> bins to <see cref="Size"/> samples. The spans may be longer; they must not overlap.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A span is too short.</exception>
    public void Inverse(ReadOnlySpan<float> real, ReadOnlySpan<float> imaginary, Span<float> signal)
    {
        real = real[..Bins];
        imaginary = imaginary[..Bins];
        signal = signal[..Size];
        stockham?.Inverse(real, imaginary, signal);
        dense?.Inverse(real, imaginary, signal);
    }
}
