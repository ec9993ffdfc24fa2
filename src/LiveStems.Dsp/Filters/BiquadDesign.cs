namespace LiveStems.Dsp.Filters;

/// <summary>
/// The designs of the Audio EQ Cookbook (R. Bristow-Johnson; W3C Working Group Note of 8 June 2021): the analogue
/// prototypes carried over by the bilinear transform, exact at their own frequency and cramped towards Nyquist.
/// </summary>
/// <remarks>
/// Frequencies are in hertz, above 0 and below half the sample rate; Q is above 0. For responses that stay true to the
/// prototype up to Nyquist use <see cref="MatchedDesign"/>.
/// </remarks>
public static class BiquadDesign
{
    /// <summary>Low-pass of second order; its gain at the corner is Q.</summary>
    public static BiquadCoefficients LowPass(double frequencyHz, double q, double sampleRate)
    {
        Warp w = new(frequencyHz, q, sampleRate);
        double rest = 1 - w.Cos;
        return w.Normalise(rest / 2, rest, rest / 2);
    }

    /// <summary>High-pass of second order; its gain at the corner is Q.</summary>
    public static BiquadCoefficients HighPass(double frequencyHz, double q, double sampleRate)
    {
        Warp w = new(frequencyHz, q, sampleRate);
        double rest = 1 + w.Cos;
        return w.Normalise(rest / 2, -rest, rest / 2);
    }

    /// <summary>Band-pass whose gain at the centre is 1.</summary>
    public static BiquadCoefficients BandPass(double frequencyHz, double q, double sampleRate)
    {
        Warp w = new(frequencyHz, q, sampleRate);
        return w.Normalise(w.Alpha, 0, -w.Alpha);
    }

    /// <summary>Band-pass whose gain at the centre is Q, so that its skirts do not move with Q.</summary>
    public static BiquadCoefficients BandPassConstantSkirt(double frequencyHz, double q, double sampleRate)
    {
        Warp w = new(frequencyHz, q, sampleRate);
        return w.Normalise(w.Sin / 2, 0, -w.Sin / 2);
    }

    /// <summary>Notch: nothing passes at the centre.</summary>
    public static BiquadCoefficients Notch(double frequencyHz, double q, double sampleRate)
    {
        Warp w = new(frequencyHz, q, sampleRate);
        return w.Normalise(1, -2 * w.Cos, 1);
    }

    /// <summary>All-pass: gain 1 everywhere, phase −180° at the centre.</summary>
    public static BiquadCoefficients AllPass(double frequencyHz, double q, double sampleRate)
    {
        Warp w = new(frequencyHz, q, sampleRate);
        return w.Normalise(1 - w.Alpha, -2 * w.Cos, 1 + w.Alpha);
    }

    /// <summary>Bell; a cut is the exact inverse of a boost with the same Q.</summary>
    public static BiquadCoefficients Bell(double frequencyHz, double q, double gainDb, double sampleRate)
    {
        Warp w = new(frequencyHz, q, sampleRate);
        double root = Math.Pow(10, gainDb / 40);
        return BiquadCoefficients.Normalised(
            1 + w.Alpha * root, -2 * w.Cos, 1 - w.Alpha * root, 1 + w.Alpha / root, -2 * w.Cos, 1 - w.Alpha / root);
    }

    /// <summary>Shelf below a frequency, where it has half its gain in decibels.</summary>
    public static BiquadCoefficients LowShelf(double frequencyHz, double q, double gainDb, double sampleRate) =>
        Shelf(frequencyHz, q, gainDb, sampleRate, side: 1);

    /// <summary>Shelf above a frequency, where it has half its gain in decibels.</summary>
    public static BiquadCoefficients HighShelf(double frequencyHz, double q, double gainDb, double sampleRate) =>
        Shelf(frequencyHz, q, gainDb, sampleRate, side: -1);

    /// <summary>The Q of a band-pass, notch or bell of a width in octaves, as measured on the digital filter.</summary>
    public static double QFromOctaves(double octaves, double frequencyHz, double sampleRate)
    {
        double omega = 2 * Math.PI * frequencyHz / sampleRate;
        return 0.5 / Math.Sinh(Math.Log(2) / 2 * octaves * omega / Math.Sin(omega));
    }

    /// <summary>The Q of a shelf of a slope; 1 is the steepest that stays monotonic.</summary>
    public static double QFromShelfSlope(double slope, double gainDb)
    {
        double root = Math.Pow(10, gainDb / 40);
        return 1 / Math.Sqrt((root + 1 / root) * (1 / slope - 1) + 2);
    }

    // The cookbook's low shelf; its high shelf is the same with cos ω and the coefficients of z⁻¹ turned over.
    private static BiquadCoefficients Shelf(double frequencyHz, double q, double gainDb, double sampleRate, double side)
    {
        Warp w = new(frequencyHz, q, sampleRate);
        double root = Math.Pow(10, gainDb / 40);
        double up = root + 1;
        double down = root - 1;
        double cos = side * w.Cos;
        double width = 2 * Math.Sqrt(root) * w.Alpha;
        return BiquadCoefficients.Normalised(
            root * (up - down * cos + width),
            side * 2 * root * (down - up * cos),
            root * (up - down * cos - width),
            up + down * cos + width,
            side * -2 * (down + up * cos),
            up + down * cos - width);
    }

    private readonly struct Warp
    {
        public readonly double Cos;
        public readonly double Sin;
        public readonly double Alpha;

        public Warp(double frequencyHz, double q, double sampleRate)
        {
            (Sin, Cos) = Math.SinCos(2 * Math.PI * frequencyHz / sampleRate);
            Alpha = Sin / (2 * q);
        }

        public BiquadCoefficients Normalise(double b0, double b1, double b2) =>
            BiquadCoefficients.Normalised(b0, b1, b2, 1 + Alpha, -2 * Cos, 1 - Alpha);
    }
}
