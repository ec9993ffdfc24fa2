using LiveStems.Dsp.Spectral;

namespace LiveStems.Analysis.Parallels;

/// <summary>
/// The delay between two sounds, to a small fraction of a sample, by the peak of their cross-correlation, whichever its
/// sign.
/// </summary>
/// <remarks>
/// The cross-spectrum S = D* · P is averaged over Hann frames (C. H. Knapp and G. C. Carter, IEEE Trans. ASSP 24, 1976, with
/// weight 1); the correlation at a lag τ, whole or not, is R(τ) = Re Σ S(ω) e^(iωτ). Its peak is sought on the whole lags,
/// then between them by Newton's method on R′(τ) = 0. For p(t) = g · d(t − τ₀) it lies at τ₀ whatever the spectrum of d.
/// </remarks>
internal sealed class PathDelayEstimator
{
    private const int Size = 16_384;
    private const int Hop = Size / 2;

    private readonly int largestLag;
    private readonly DoubleFourierTransform transform = new(Size);
    private readonly double[] window = new double[Size];
    private readonly double[][] frames = [new double[Size], new double[Size], new double[Size], new double[Size]];
    private readonly double[] windowed = new double[Size];
    private readonly double[] firstReal;
    private readonly double[] firstImaginary;
    private readonly double[] secondReal;
    private readonly double[] secondImaginary;
    private readonly double[] real;
    private readonly double[] imaginary;
    private double firstEnergy;
    private double secondEnergy;
    private int filled;

    /// <param name="largestLag">The largest delay that is sought, in samples either way; at most 4800.</param>
    public PathDelayEstimator(int largestLag)
    {
        this.largestLag = largestLag;
        for (int n = 0; n < Size; n++)
        {
            window[n] = 0.5 - 0.5 * Math.Cos(2 * Math.PI * n / Size);
        }

        int bins = transform.Bins;
        (firstReal, firstImaginary) = (new double[bins], new double[bins]);
        (secondReal, secondImaginary) = (new double[bins], new double[bins]);
        (real, imaginary) = (new double[bins], new double[bins]);
    }

    /// <summary>Adds a stretch of both sounds.</summary>
    public void Add(ReadOnlySpan<float> firstLeft, ReadOnlySpan<float> firstRight, ReadOnlySpan<float> secondLeft, ReadOnlySpan<float> secondRight)
    {
        for (int i = 0; i < firstLeft.Length; i++)
        {
            frames[0][filled] = firstLeft[i];
            frames[1][filled] = firstRight[i];
            frames[2][filled] = secondLeft[i];
            frames[3][filled] = secondRight[i];
            if (++filled == Size)
            {
                TakeFrame();
            }
        }
    }

    /// <summary>The delay; null when one of the sounds is silent.</summary>
    public PathDelay? Finish()
    {
        for (int i = filled; i < Size; i++)
        {
            frames[0][i] = frames[1][i] = frames[2][i] = frames[3][i] = 0;
        }

        TakeFrame();
        if (firstEnergy == 0 || secondEnergy == 0)
        {
            return null;
        }

        double scale = 1 / Math.Sqrt(firstEnergy * secondEnergy);
        double lag = Refined(WholeLag());
        return new PathDelay(lag, Correlation(lag) * scale, Correlation(0) * scale);
    }

    private void TakeFrame()
    {
        for (int channel = 0; channel < 2; channel++)
        {
            firstEnergy += Transform(frames[channel], firstReal, firstImaginary);
            secondEnergy += Transform(frames[channel + 2], secondReal, secondImaginary);
            for (int k = 0; k < real.Length; k++)
            {
                real[k] += firstReal[k] * secondReal[k] + firstImaginary[k] * secondImaginary[k];
                imaginary[k] += firstReal[k] * secondImaginary[k] - firstImaginary[k] * secondReal[k];
            }
        }

        foreach (double[] frame in frames)
        {
            frame.AsSpan(Hop).CopyTo(frame);
        }

        filled = Size - Hop;
    }

    private double Transform(double[] frame, double[] re, double[] im)
    {
        for (int n = 0; n < Size; n++)
        {
            windowed[n] = window[n] * frame[n];
        }

        transform.Forward(windowed, re, im);
        double energy = 0;
        for (int k = 0; k < re.Length; k++)
        {
            energy += Weight(k) * (re[k] * re[k] + im[k] * im[k]);
        }

        return energy;
    }

    // All bins but both ends stand for two.
    private static double Weight(int bin) => bin is 0 or Size / 2 ? 1 : 2;

    private int WholeLag()
    {
        double[] correlation = new double[Size];
        transform.Inverse(real, imaginary, correlation);
        int best = 0;
        for (int lag = -largestLag; lag <= largestLag; lag++)
        {
            if (Math.Abs(correlation[(lag + Size) % Size]) > Math.Abs(correlation[(best + Size) % Size]))
            {
                best = lag;
            }
        }

        return best;
    }

    private double Refined(int whole)
    {
        double lag = whole;
        for (int round = 0; round < 20; round++)
        {
            (double slope, double bend) = Slopes(lag);
            double step = bend == 0 ? 0 : -slope / bend;
            if (Math.Abs(step) < 1e-7)
            {
                break;
            }

            lag = Math.Clamp(lag + Math.Clamp(step, -0.5, 0.5), whole - 1.0, whole + 1.0);
        }

        return Math.Clamp(lag, -largestLag, largestLag);
    }

    private double Correlation(double lag)
    {
        double sum = 0;
        for (int k = 0; k < real.Length; k++)
        {
            (double sin, double cos) = Math.SinCos(2 * Math.PI * k * lag / Size);
            sum += Weight(k) * (real[k] * cos - imaginary[k] * sin);
        }

        return sum;
    }

    private (double Slope, double Bend) Slopes(double lag)
    {
        double slope = 0;
        double bend = 0;
        for (int k = 0; k < real.Length; k++)
        {
            double omega = 2 * Math.PI * k / Size;
            (double sin, double cos) = Math.SinCos(omega * lag);
            slope -= Weight(k) * omega * (real[k] * sin + imaginary[k] * cos);
            bend -= Weight(k) * omega * omega * (real[k] * cos - imaginary[k] * sin);
        }

        return (slope, bend);
    }
}
