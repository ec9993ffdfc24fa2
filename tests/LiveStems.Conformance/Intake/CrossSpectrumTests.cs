using System.Numerics;
using LiveStems.Analysis.Intake;
using Xunit;

namespace LiveStems.Conformance.Intake;

/// <summary>What the intake check rests on, against scipy's csd and correlate.</summary>
public class CrossSpectrumTests
{
    private const int Size = 4096;
    private const int Frames = 24;
    private const int Delay = 137;

    [Fact]
    public void CrossSpectraAreThoseOfScipysCsd()
    {
        (double[] first, double[] second) = Pair();
        CrossSpectra ours = Spectra(first, second);

        // csd is the mean over the frames of conj(X)·Y, scaled by 2 / (rate · Σ window²), by half of that at both ends.
        double[] scipy = Scipy.Evaluate(
            $"(lambda v: np.stack([v.real, v.imag], 1).ravel())(signal.csd(x[0::2], x[1::2], fs=1, window='hann', nperseg={Size}, noverlap={Size / 2}, detrend=False)[1])",
            Interleaved(first, second));
        double windowPower = Enumerable.Range(0, Size).Sum(n => Math.Pow(0.5 - 0.5 * Math.Cos(2 * Math.PI * n / Size), 2));
        int frames = 2 * Frames - 1;
        double largest = Enumerable.Range(0, Size / 2 + 1).Max(bin => ours.At(0, 1, 0, bin).Magnitude) * 2 / (windowPower * frames);
        for (int bin = 0; bin <= Size / 2; bin++)
        {
            double scale = (bin is 0 or Size / 2 ? 1 : 2) / (windowPower * frames);
            Complex expected = new(scipy[2 * bin], scipy[2 * bin + 1]);

            // A float transform of 12 passes rounds by 2⁻²⁴ of its largest line each.
            Assert.True((expected - ours.At(0, 1, 0, bin) * scale).Magnitude <= 12 * Math.Pow(2, -23) * largest, $"bin {bin}");
        }
    }

    [Fact]
    public void DelayIsWhereScipysCorrelationHasItsPeak()
    {
        (double[] first, double[] second) = Pair();
        CrossSpectra spectra = Spectra(first, second);
        Complex[] response = [.. Enumerable.Range(0, Size / 2 + 1).Select(bin => spectra.At(0, 1, 0, bin))];
        double[] weight = [.. response.Select(_ => 1.0)];
        DelayEstimate estimate = new DelaySearch(Size).Find([response], [weight]);
        double[] scipy = Scipy.Evaluate(
            "np.array([float(signal.correlation_lags(len(x) // 2, len(x) // 2)[np.argmax(signal.correlate(x[1::2], x[0::2]))])])", Interleaved(first, second));
        Assert.True(estimate.IsKnown);
        Assert.Equal(Delay, scipy[0]);
        Assert.Equal(scipy[0], estimate.Frames, 0.01);
    }

    private static CrossSpectra Spectra(double[] first, double[] second)
    {
        CrossSpectra spectra = new(2, Size);
        SideSpectra[] sides = [new SideSpectra(Size), new SideSpectra(Size)];
        for (int half = 0; half < first.Length / (Size / 2); half++)
        {
            foreach ((SideSpectra side, double[] sound) in sides.Zip([first, second]))
            {
                for (int n = 0; n < Size / 2; n++)
                {
                    side.Next(0)[n] = side.Next(1)[n] = (float)sound[half * (Size / 2) + n];
                }

                side.Advance();
            }

            // The first frame is half empty, which csd knows none of.
            if (half > 0)
            {
                spectra.Add(sides);
            }
        }

        return spectra;
    }

    private static double[] Interleaved(double[] first, double[] second) => [.. first.Zip(second).SelectMany(pair => new[] { (double)(float)pair.First, (float)pair.Second })];

    private static (double[] First, double[] Second) Pair()
    {
        Random random = new(17);
        double[] first = [.. Enumerable.Range(0, Frames * Size).Select(_ => 0.3 * (random.NextDouble() - 0.5))];
        double[] second = [.. Enumerable.Range(0, first.Length).Select(n => (n < Delay ? 0 : 0.8 * first[n - Delay]) + 0.1 * (random.NextDouble() - 0.5))];
        return (first, second);
    }
}
