using LiveStems.Dsp;

namespace LiveStems.App.Demo.Mixing;

/// <summary>
/// Second-order filter in transposed direct form II with state in double. Designs: R. Bristow-Johnson, "Cookbook
/// formulae for audio equalizer biquad filter coefficients".
/// </summary>
internal struct Biquad
{
    private const int FlushInterval = 4096;
    private double b0;
    private double b1;
    private double b2;
    private double a1;
    private double a2;
    private double s1;
    private double s2;

    public static Biquad LowPass(double hertz, double q, double sampleRate)
    {
        (double cos, double alpha) = Angle(hertz, q, sampleRate);
        return Normalised((1 - cos) / 2, 1 - cos, (1 - cos) / 2, 1 + alpha, -2 * cos, 1 - alpha);
    }

    public static Biquad HighPass(double hertz, double q, double sampleRate)
    {
        (double cos, double alpha) = Angle(hertz, q, sampleRate);
        return Normalised((1 + cos) / 2, -(1 + cos), (1 + cos) / 2, 1 + alpha, -2 * cos, 1 - alpha);
    }

    /// <summary>Band-pass with 0 dB at its centre.</summary>
    public static Biquad BandPass(double hertz, double q, double sampleRate)
    {
        (double cos, double alpha) = Angle(hertz, q, sampleRate);
        return Normalised(alpha, 0, -alpha, 1 + alpha, -2 * cos, 1 - alpha);
    }

    public static Biquad Bell(double hertz, double q, double gainDb, double sampleRate)
    {
        (double cos, double alpha) = Angle(hertz, q, sampleRate);
        double a = Decibels.ToAmplitude(gainDb / 2);
        return Normalised(1 + alpha * a, -2 * cos, 1 - alpha * a, 1 + alpha / a, -2 * cos, 1 - alpha / a);
    }

    public static Biquad LowShelf(double hertz, double gainDb, double sampleRate) => Shelf(hertz, gainDb, sampleRate, 1);

    public static Biquad HighShelf(double hertz, double gainDb, double sampleRate) => Shelf(hertz, gainDb, sampleRate, -1);

    /// <summary>Takes over the response of another filter and keeps the state.</summary>
    public void Retune(in Biquad other)
    {
        (b0, b1, b2, a1, a2) = (other.b0, other.b1, other.b2, other.a1, other.a2);
    }

    public double Next(double input)
    {
        double output = b0 * input + s1;
        s1 = b1 * input - a1 * output + s2;
        s2 = b2 * input - a2 * output;
        return output;
    }

    /// <summary>Filters one run of samples in place, as if from silence.</summary>
    public static void Process(Biquad filter, Span<float> samples)
    {
        for (int start = 0; start < samples.Length; start += FlushInterval)
        {
            Span<float> part = samples.Slice(start, Math.Min(FlushInterval, samples.Length - start));
            for (int i = 0; i < part.Length; i++)
            {
                part[i] = (float)filter.Next(part[i]);
            }

            filter.FlushTinyState();
        }
    }

    /// <summary>Filters two runs of equal length in place, as if from silence; side by side, so that one waits for neither.</summary>
    public static void Process(Biquad filter, Span<float> left, Span<float> right)
    {
        Biquad other = filter;
        for (int start = 0; start < left.Length; start += FlushInterval)
        {
            Span<float> l = left.Slice(start, Math.Min(FlushInterval, left.Length - start));
            Span<float> r = right.Slice(start, l.Length);
            for (int i = 0; i < l.Length; i++)
            {
                l[i] = (float)filter.Next(l[i]);
                r[i] = (float)other.Next(r[i]);
            }

            filter.FlushTinyState();
            other.FlushTinyState();
        }
    }

    // Silence must not run on subnormal numbers.
    private void FlushTinyState()
    {
        s1 = Math.Abs(s1) < 1e-20 ? 0 : s1;
        s2 = Math.Abs(s2) < 1e-20 ? 0 : s2;
    }

    // The low shelf turns into the high one when every sign of the cosine turns.
    private static Biquad Shelf(double hertz, double gainDb, double sampleRate, int side)
    {
        (double cos, double alpha) = Angle(hertz, Math.Sqrt(0.5), sampleRate);
        double a = Decibels.ToAmplitude(gainDb / 2);
        double root = 2 * Math.Sqrt(a) * alpha;
        double turned = side * cos;
        return Normalised(
            a * (a + 1 - (a - 1) * turned + root),
            side * 2 * a * (a - 1 - (a + 1) * turned),
            a * (a + 1 - (a - 1) * turned - root),
            a + 1 + (a - 1) * turned + root,
            side * -2 * (a - 1 + (a + 1) * turned),
            a + 1 + (a - 1) * turned - root);
    }

    private static (double Cos, double Alpha) Angle(double hertz, double q, double sampleRate)
    {
        double omega = 2 * Math.PI * Math.Min(hertz, 0.49 * sampleRate) / sampleRate;
        return (Math.Cos(omega), Math.Sin(omega) / (2 * q));
    }

    private static Biquad Normalised(double b0, double b1, double b2, double a0, double a1, double a2) => new()
    {
        b0 = b0 / a0,
        b1 = b1 / a0,
        b2 = b2 / a0,
        a1 = a1 / a0,
        a2 = a2 / a0,
    };
}
