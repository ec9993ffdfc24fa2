using System.Numerics;
using LiveStems.Dsp.Filters;

namespace LiveStems.Analysis.Spectra;

/// <summary>
/// A band-pass for a fractional-octave band: Butterworth of order 4 at each flank, −3.01 dB at both edges, which is inside
/// the limits of class 1 of IEC 61260-1:2014.
/// </summary>
public static class OctaveBandFilter
{
    /// <summary>Sections of one filter.</summary>
    public const int Sections = 4;

    /// <summary>Designs the filter: low-pass to band-pass, then the bilinear transform, exact at both edges.</summary>
    /// <param name="band">A band whose upper edge lies below half the sample rate.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <exception cref="ArgumentOutOfRangeException">The upper edge is too high.</exception>
    public static BiquadCoefficients[] Design(OctaveBand band, int sampleRate)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(band.UpperHz, sampleRate / 2.0, nameof(band));
        double lower = Math.Tan(Math.PI * band.LowerHz / sampleRate);
        double upper = Math.Tan(Math.PI * band.UpperHz / sampleRate);
        double width = upper - lower;
        double square = lower * upper;
        double middle = 2 * Math.Atan(Math.Sqrt(square));

        // Each prototype pole gives two; those below the real axis mirror these.
        List<Complex> poles = [];
        for (int pair = 0; pair < Sections / 2; pair++)
        {
            Complex prototype = Complex.FromPolarCoordinates(1, Math.PI * (0.5 + (2 * pair + 1) / (2.0 * Sections)));
            Complex halfway = prototype * width / 2;
            Complex root = Complex.Sqrt(halfway * halfway - square);
            poles.Add(halfway + root);
            poles.Add(halfway - root);
        }

        return [.. poles.Select(pole => Section((1 + pole) / (1 - pole), middle))];
    }

    private static BiquadCoefficients Section(Complex pole, double middle)
    {
        BiquadCoefficients plain = new(1, 0, -1, -2 * pole.Real, pole.Real * pole.Real + pole.Imaginary * pole.Imaginary);
        double gain = 1 / Complex.Abs(plain.Response(middle));
        return plain with { B0 = gain, B2 = -gain };
    }
}
