using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Simd;

namespace LiveStems.Analysis.Spectra;

/// <summary>Crest of fractional-octave bands: the largest sample of the filtered band over its root mean square.</summary>
/// <remarks>Left and right are filtered apart; the peak is the larger one's, the power the mean of both.</remarks>
internal sealed class BandCrest
{
    private const int FramesAtOnce = 2048;

    private readonly StereoCascade[] filters;
    private readonly float[] peaks;
    private readonly double[] energies;
    private readonly float[] left = new float[FramesAtOnce];
    private readonly float[] right = new float[FramesAtOnce];
    private long frames;

    public BandCrest(IReadOnlyList<OctaveBand> bands, int sampleRate)
    {
        filters = [.. bands.Select(band => Filter(band, sampleRate))];
        peaks = new float[filters.Length];
        energies = new double[filters.Length];
    }

    public void Add(ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight)
    {
        frames += newLeft.Length;
        for (int start = 0; start < newLeft.Length; start += FramesAtOnce)
        {
            int count = Math.Min(FramesAtOnce, newLeft.Length - start);
            for (int band = 0; band < filters.Length; band++)
            {
                Span<float> bandLeft = left.AsSpan(0, count), bandRight = right.AsSpan(0, count);
                newLeft.Slice(start, count).CopyTo(bandLeft);
                newRight.Slice(start, count).CopyTo(bandRight);
                filters[band].Process(bandLeft, bandRight);
                filters[band].FlushTinyState();
                peaks[band] = Magnitude.Largest(bandRight, Magnitude.Largest(bandLeft, peaks[band]));
                energies[band] += Energy(bandLeft) + Energy(bandRight);
            }
        }
    }

    /// <summary>Crest in dB; NaN for silence.</summary>
    public double Db(int band) =>
        energies[band] > 0 ? Decibels.FromAmplitude(peaks[band]) - Decibels.FromPower(energies[band] / (2.0 * frames)) : double.NaN;

    private static StereoCascade Filter(OctaveBand band, int sampleRate)
    {
        StereoCascade cascade = new(OctaveBandFilter.Sections);
        int section = 0;
        foreach (BiquadCoefficients coefficients in OctaveBandFilter.Design(band, sampleRate))
        {
            cascade.Set(section++, StateVariableCoefficients.FromBiquad(coefficients));
        }

        return cascade;
    }

    private static double Energy(ReadOnlySpan<float> samples) => Products.Sum(samples, samples);
}
