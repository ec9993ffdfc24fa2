using LiveStems.Dsp;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Tests.Signals;

/// <summary>What a room's impulse response says about it.</summary>
internal static class RoomAcoustics
{
    /// <summary>
    /// Reverberation time T20 in an octave band: straight line through the backward integral between −5 and −25 dB, extrapolated to 60 dB
    /// (M. R. Schroeder 1965, ISO 3382; REFERENCES section 12), over the sum of the integrals of several responses. The band is cut out of
    /// the spectrum with raised-cosine flanks of a third of an octave.
    /// </summary>
    public static double T20(IReadOnlyList<float[]> responses, double centreHz, int sampleRate)
    {
        double[] decay = new double[responses.Max(response => response.Length)];
        foreach (float[] response in responses)
        {
            double[] band = Band(response, centreHz, sampleRate);
            double sum = 0;
            for (int n = response.Length - 1; n >= 0; n--)
            {
                sum += band[n] * band[n];
                decay[n] += sum;
            }
        }

        List<(double X, double Y)> points = [];
        for (int n = 0; n < decay.Length; n += 8)
        {
            double level = Decibels.FromPower(decay[n] / decay[0]);
            if (level is <= -5 and >= -25)
            {
                points.Add((n / (double)sampleRate, level));
            }
        }

        double meanX = points.Average(point => point.X), meanY = points.Average(point => point.Y);
        double slope = points.Sum(p => (p.X - meanX) * (p.Y - meanY)) / points.Sum(p => (p.X - meanX) * (p.X - meanX));
        return -60 / slope;
    }

    /// <summary>
    /// Echo density of a stretch: the share of samples that lie beyond the stretch's standard deviation, over the 0.3173 that
    /// Gaussian noise has there; 1 is as dense as noise (J. S. Abel and P. Huang, AES 121st Convention, 2006; from memory).
    /// </summary>
    public static double EchoDensity(ReadOnlySpan<float> stretch)
    {
        double power = 0;
        foreach (float sample in stretch)
        {
            power += (double)sample * sample;
        }

        double deviation = Math.Sqrt(power / stretch.Length);
        int beyond = 0;
        foreach (float sample in stretch)
        {
            beyond += Math.Abs(sample) > deviation ? 1 : 0;
        }

        return beyond / (0.3173 * stretch.Length);
    }

    /// <summary>Power of each bin of a stretch, a power of two of samples, through a Hann window.</summary>
    public static double[] Power(ReadOnlySpan<float> stretch)
    {
        RealFourierTransform transform = new(stretch.Length);
        float[] windowed = new float[stretch.Length];
        AnalysisWindow.Hann(stretch.Length).Apply(stretch, windowed);
        float[] real = new float[transform.Bins], imaginary = new float[transform.Bins];
        transform.Forward(windowed, real, imaginary);
        return [.. real.Zip(imaginary, (a, b) => (double)a * a + (double)b * b)];
    }

    private static double[] Band(float[] response, double centreHz, int sampleRate)
    {
        int size = 1 << (int)Math.Ceiling(Math.Log2(2 * response.Length));
        DoubleFourierTransform transform = new(size);
        double[] signal = new double[size], real = new double[transform.Bins], imaginary = new double[transform.Bins];
        for (int n = 0; n < response.Length; n++)
        {
            signal[n] = response[n];
        }

        transform.Forward(signal, real, imaginary);
        for (int bin = 0; bin < real.Length; bin++)
        {
            double octaves = Math.Abs(Math.Log2(Math.Max(bin, 0.5) * sampleRate / size / centreHz));
            double inside = Math.Clamp((0.5 + 1 / 6.0 - octaves) * 3, 0, 1);
            double gain = 0.5 - 0.5 * Math.Cos(Math.PI * inside);
            real[bin] *= gain;
            imaginary[bin] *= gain;
        }

        transform.Inverse(real, imaginary, signal);
        return signal[..response.Length];
    }
}
