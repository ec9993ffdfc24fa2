using System.Numerics;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// The discrete Fourier transform of real signals of 2 to 4,194,304 samples, a power of two, in double precision, for
/// measurements below the −140 dB of <see cref="RealFourierTransform"/>; same packing and scaling.
/// </summary>
/// <remarks>
/// Forward, unscaled: X[k] = Σ x[n]·e^(−2πi·kn/N) for N/2 + 1 bins; inverse, scaled by 1/N. The constructor takes all
/// memory, the transforms allocate nothing; one thread at a time. Stockham's radix-2 passes: C. Van Loan, Computational
/// Frameworks for the Fast Fourier Transform, section 1.7; the real signal goes as complex numbers of half the size:
/// H. V. Sorensen et al., IEEE Trans. ASSP 35 (1987), section II.
/// </remarks>
public sealed class DoubleFourierTransform
{
    /// <summary>The largest size.</summary>
    public const int LargestSize = 4_194_304;

    private readonly int half;
    private readonly Complex[] turns;
    private Complex[] work;
    private Complex[] spare;

    /// <summary>Computes the tables for one size and takes all memory.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The size is not a power of two from 2 to <see cref="LargestSize"/>.</exception>
    public DoubleFourierTransform(int size)
    {
        if (!BitOperations.IsPow2(size) || size < 2 || size > LargestSize)
        {
            throw new ArgumentOutOfRangeException(nameof(size), size, "a power of two from 2 to 4194304 is needed");
        }

        Size = size;
        half = size / 2;
        work = new Complex[half];
        spare = new Complex[half];
        turns = new Complex[half + 1];
        for (int k = 0; k <= half; k++)
        {
            (double sin, double cos) = TwiddleTables.Turn(-k, size);
            turns[k] = new Complex(cos, sin);
        }
    }

    /// <summary>Samples of the signal, N.</summary>
    public int Size { get; }

    /// <summary>Bins of the spectrum, N/2 + 1; bin k lies at k/N of the sample rate.</summary>
    public int Bins => half + 1;

    /// <summary>From <see cref="Size"/> samples to <see cref="Bins"/> bins. The spans may be longer.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A span is too short.</exception>
    public void Forward(ReadOnlySpan<double> signal, Span<double> real, Span<double> imaginary)
    {
        signal = signal[..Size];
        real = real[..Bins];
        imaginary = imaginary[..Bins];
        for (int n = 0; n < half; n++)
        {
            work[n] = new Complex(signal[2 * n], signal[2 * n + 1]);
        }

        TransformWork();
        for (int k = 0; k <= half; k++)
        {
            Complex there = work[k % half];
            Complex mirrored = Complex.Conjugate(work[(half - k) % half]);
            Complex odd = (there - mirrored) * turns[k];
            real[k] = 0.5 * (there.Real + mirrored.Real + odd.Imaginary);
            imaginary[k] = 0.5 * (there.Imaginary + mirrored.Imaginary - odd.Real);
        }

        imaginary[0] = 0;
        imaginary[half] = 0;
    }

    /// <summary>
    /// From <see cref="Bins"/> bins to <see cref="Size"/> samples; the imaginary parts at both ends are not read. The
    /// spans may be longer.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A span is too short.</exception>
    public void Inverse(ReadOnlySpan<double> real, ReadOnlySpan<double> imaginary, Span<double> signal)
    {
        real = real[..Bins];
        imaginary = imaginary[..Bins];
        signal = signal[..Size];
        for (int k = 0; k < half; k++)
        {
            Complex there = new(real[k], k == 0 ? 0 : imaginary[k]);
            Complex mirrored = new(real[half - k], k == 0 ? 0 : -imaginary[half - k]);
            Complex odd = (there - mirrored) * Complex.Conjugate(turns[k]);

            // Real and imaginary parts are exchanged here and back below, which turns the transform into its inverse.
            work[k] = new Complex(there.Imaginary + mirrored.Imaginary + odd.Real, there.Real + mirrored.Real - odd.Imaginary);
        }

        TransformWork();
        double scale = 1.0 / Size;
        for (int n = 0; n < half; n++)
        {
            signal[2 * n] = work[n].Imaginary * scale;
            signal[2 * n + 1] = work[n].Real * scale;
        }
    }

    private void TransformWork()
    {
        int stride = 1;
        for (int length = half; length > 1; length /= 2)
        {
            int middle = length / 2;
            for (int p = 0; p < middle; p++)
            {
                Complex turn = turns[2 * p * stride];
                for (int q = 0; q < stride; q++)
                {
                    Complex a = work[q + stride * p];
                    Complex b = work[q + stride * (p + middle)];
                    spare[q + stride * 2 * p] = a + b;
                    spare[q + stride * (2 * p + 1)] = (a - b) * turn;
                }
            }

            (work, spare) = (spare, work);
            stride *= 2;
        }
    }
}
