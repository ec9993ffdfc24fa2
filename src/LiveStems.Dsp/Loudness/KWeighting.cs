using System.Numerics;

namespace LiveStems.Dsp.Loudness;

/// <summary>
/// The K-weighting of ITU-R BS.1770-5 Annex 1: a shelf for the head, then a high-pass, for any sample rate.
/// </summary>
/// <remarks>
/// The standard tabulates 48 kHz only (Tables 1 and 2) and asks for the same response at other rates. The bilinear
/// transform of the analogue prototypes (those of libebur128) gives the tables, but bends elsewhere: by 0.008 dB at high
/// rates, 0.29 dB at 8 kHz. So the shelf is matched to the tabulated one (see <see cref="MatchedShelf"/>); the high-pass,
/// far below any band edge, stays bilinear with its gain made up. Up to 20 kHz or 0.45 of the sample rate, the whole then
/// follows the 48 kHz response within 0.0001 dB from 32 kHz up, 0.0013 dB at 16 kHz and 0.014 dB at 8 kHz.
/// </remarks>
internal readonly record struct KWeighting
{
    private const double TabulatedSampleRate = 48_000;
    private const double HighPassFrequency = 38.13547087602444;
    private const double HighPassQ = 0.5003270373238773;

    public KWeighting(double sampleRate)
    {
        SampleRate = sampleRate;
        Shelf = MatchedShelf.For(sampleRate);

        double k = Math.Tan(Math.PI * HighPassFrequency / sampleRate);
        double scale = HighPassScale(k);
        HighPassA1 = 2 * (k * k - 1) / scale;
        HighPassA2 = (1 - k / HighPassQ + k * k) / scale;
        HighPassGain = HighPassScale(Math.Tan(Math.PI * HighPassFrequency / TabulatedSampleRate)) / scale;
    }

    public double SampleRate { get; }

    /// <summary>The first stage.</summary>
    public MatchedShelf Shelf { get; }

    /// <summary>Second stage: <see cref="HighPassGain"/> × (1, −2, 1) over (1, this, <see cref="HighPassA2"/>).</summary>
    public double HighPassA1 { get; }

    public double HighPassA2 { get; }

    /// <summary>Exactly 1 at 48 kHz, where the standard has the numerator 1, −2, 1.</summary>
    public double HighPassGain { get; }

    /// <summary>Gain in decibels at a frequency in hertz.</summary>
    public double GainDb(double frequency)
    {
        Complex delay = Complex.FromPolarCoordinates(1, -2 * Math.PI * frequency / SampleRate);
        Complex difference = 1 - delay;
        Complex highPass = HighPassGain * difference * difference / (1 + delay * (HighPassA1 + delay * HighPassA2));
        return Decibels.FromAmplitude((Shelf.Response(delay) * highPass).Magnitude);
    }

    private static double HighPassScale(double k) => 1 + k / HighPassQ + k * k;
}
