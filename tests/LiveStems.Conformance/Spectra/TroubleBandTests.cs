using LiveStems.Analysis.Hearing;
using LiveStems.Analysis.Trouble;
using Xunit;

namespace LiveStems.Conformance.Spectra;

/// <summary>The bands of the harshness search against scipy's short-time spectra.</summary>
public class TroubleBandTests
{
    private const int Rate = 48_000;

    [Fact]
    public void PowerOfEveryBandOverTimeIsThatOfScipysSpectrogram()
    {
        float[] sound = Noise(seconds: 4);
        SlowBands bands = new(Rate);
        bands.Add(sound, sound);
        bands.Finish();
        int hop = (int)Math.Round(bands.Power.RowSeconds * Rate);
        int size = 4 * hop;

        // Frames that lie inside the sound, in the order of ours: the first whole one is the fourth.
        double[] scipy = Scipy.Evaluate(
            $"signal.spectrogram(x, fs={Rate}, window='hann', nperseg={size}, noverlap={size - hop}, detrend=False, scaling='density')[2].T.copy()",
            [.. sound.Select(sample => (double)sample)]);
        int bins = size / 2 + 1;
        double binHz = (double)Rate / size;
        Assert.True(scipy.Length / bins > 10);
        for (int frame = 0; frame < scipy.Length / bins; frame++)
        {
            for (int band = 0; band < bands.Grid.Bands; band++)
            {
                double sum = 0;
                for (int bin = bands.Grid.FirstBin[band]; bin < bands.Grid.EndBin[band]; bin++)
                {
                    sum += scipy[frame * bins + bin] * binHz;
                }

                // Rounding of a float transform of 15 passes, 2⁻²⁴ each of the largest line, on lines of like height: below 0.001 dB.
                double expected = 10 * Math.Log10(sum / (bands.Grid.EndBin[band] - bands.Grid.FirstBin[band]));
                Assert.Equal(expected, bands.Power.Row(frame + 3)[band], 0.002);
            }
        }
    }

    [Fact]
    public void ResonanceLiesWhereScipysWelchHasItsPeak()
    {
        // A resonator of Q 20 in white noise; scipy's spectrum, smoothed over a third of an equivalent rectangular bandwidth, peaks there.
        float[] noise = Noise(seconds: 30);
        double[] sound = Scipy.Evaluate(
            $"x + 2.2 * signal.lfilter(*signal.iirpeak(3170, 20, fs={Rate}), x)", [.. noise.Select(sample => (double)sample)]);
        double[] peak = Scipy.Evaluate(
            $"(lambda f, p: np.array([f[np.argmax(np.convolve(p, np.ones(21) / 21, 'same'))]]))(*signal.welch(x, fs={Rate}, nperseg=8192))", sound);
        float[] samples = [.. sound.Select(sample => (float)sample)];
        TroubleSearch search = new(Rate, new TroubleSettings(Albums.Model.StemRole.Other));
        search.Add(samples, samples);
        TroubleFinding finding = Assert.Single(search.Finish().Findings, found => found.Kind == TroubleKind.Resonance);
        Assert.True(Math.Abs(Math.Log2(finding.CentreHz / peak[0])) < 1.0 / 24, $"{finding.CentreHz} Hz, scipy {peak[0]} Hz");
        Assert.InRange(CamScale.FromHz(finding.CentreHz) - CamScale.FromHz(3170), -0.5, 0.5);
    }

    private static float[] Noise(double seconds)
    {
        Random random = new(29);
        return [.. Enumerable.Range(0, (int)(seconds * Rate)).Select(_ => (float)(0.2 * (random.NextDouble() - 0.5)))];
    }
}
