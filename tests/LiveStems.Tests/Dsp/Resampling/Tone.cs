using Xunit;

namespace LiveStems.Tests.Dsp.Resampling;

/// <summary>A tone made in double, rounded to float, and found again by least squares.</summary>
internal static class Tone
{
    /// <summary>A sine of so many radians per frame.</summary>
    public static float[] Sine(int frames, double step, double amplitude, double phase)
    {
        float[] tone = new float[frames];
        for (int i = 0; i < frames; i++)
        {
            tone[i] = (float)(amplitude * Math.Sin(step * i + phase));
        }

        return tone;
    }

    /// <summary>Amplitude and phase of the sine that fits best, and the root mean square of what it leaves.</summary>
    public static (double Amplitude, double Phase, double Residual) Fit(ReadOnlySpan<float> signal, long firstFrame, double step)
    {
        double ss = 0, cc = 0, sc = 0, ys = 0, yc = 0;
        for (int i = 0; i < signal.Length; i++)
        {
            (double s, double c) = Math.SinCos(step * (firstFrame + i));
            ss += s * s;
            cc += c * c;
            sc += s * c;
            ys += signal[i] * s;
            yc += signal[i] * c;
        }

        double determinant = ss * cc - sc * sc;
        double sine = (ys * cc - yc * sc) / determinant;
        double cosine = (yc * ss - ys * sc) / determinant;
        double left = 0;
        for (int i = 0; i < signal.Length; i++)
        {
            (double s, double c) = Math.SinCos(step * (firstFrame + i));
            double rest = signal[i] - (sine * s + cosine * c);
            left += rest * rest;
        }

        return (Math.Sqrt(sine * sine + cosine * cosine), Math.Atan2(cosine, sine), Math.Sqrt(left / signal.Length));
    }

    public static double RootMeanSquare(ReadOnlySpan<float> signal)
    {
        double sum = 0;
        foreach (float sample in signal)
        {
            sum += (double)sample * sample;
        }

        return Math.Sqrt(sum / signal.Length);
    }
}
