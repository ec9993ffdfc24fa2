using LiveStems.Analysis.Spectra;
using Xunit;

namespace LiveStems.Conformance.Spectra;

public class WelchTests
{
    [Fact]
    public void LinesAreThoseOfScipysWelch()
    {
        const int rate = 48_000;
        Random random = new(4);
        float[] left = [.. Enumerable.Range(0, 3 * rate).Select(n => (float)(0.2 * Math.Sin(0.05 * n) + 0.3 * (random.NextDouble() - 0.5)))];
        SpectrumAnalyser analyser = new(rate, 3, SpectrumChannel.Left);
        analyser.Add(left, left);
        LongTermSpectrum spectrum = analyser.Finish();

        // Ours lets frames reach beyond both ends: the same signal with silence around it, scaled from the mean over frames to the
        // mean over samples.
        int size = spectrum.LineSize, hop = size / 4;
        int behind = size - hop + (hop - left.Length % hop) % hop;
        double[] expected = Scipy.Evaluate(
            $"signal.welch(numpy.concatenate([numpy.zeros({size - hop}), x, numpy.zeros({behind})]), fs={rate}, window='hann', nperseg={size}, noverlap={size - hop}, detrend=False, scaling='density')[1]",
            [.. left.Select(sample => (double)sample)]);
        double frames = (left.Length + size - hop + behind - size) / hop + 1;
        double toPower = (double)rate / size * frames * hop / left.Length;
        for (int k = 0; k < expected.Length; k++)
        {
            // Rounding of a float transform: 2⁻²⁴ of the largest line's amplitude for each of 15 passes.
            Assert.Equal(expected[k] * toPower, spectrum.Lines[k], 1e-5 * expected[k] * toPower + 1e-12);
        }
    }
}
