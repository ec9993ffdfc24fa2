using LiveStems.Dsp.Resampling;
using Xunit;

namespace LiveStems.Tests.Dsp.Resampling;

/// <summary>Each usual rate to each other, as a file is converted.</summary>
public class EveryUsualRateTests
{
    private const double Amplitude = 0.2;

    private static readonly int[] Rates =
    [
        8_000, 11_025, 16_000, 22_050, 24_000, 32_000, 44_100, 48_000, 88_200, 96_000, 176_400, 192_000, 352_800, 384_000,
    ];

    public static TheoryData<int> FromRates => [.. Rates];

    [Theory]
    [MemberData(nameof(FromRates))]
    public void TonesKeepLevelAndTimeAndNothingElseComesOut(int fromRate)
    {
        // Fractions of the Nyquist frequency of the lower rate: what is heard up to 20 kHz at 44.1 kHz, then what must vanish.
        double[] heard = [0.0453, 0.31, 0.777, 20 / 22.05];
        double[] unheard = [1.003, 1.09, 1.4, 1.97];
        foreach (int toRate in Rates.Where(rate => rate != fromRate))
        {
            double stretch = Math.Max(1, (double)fromRate / toRate);
            double nyquist = Math.PI / stretch;
            int frames = (int)(1500 * stretch);
            float[] left = Sum(frames, [.. heard.Select(fraction => fraction * nyquist)]);
            float[] right = Sum(frames, [.. unheard.Where(fraction => fraction < stretch).Select(fraction => fraction * nyquist)]);
            (float[] leftOutput, float[] rightOutput) = Resample.All(fromRate, toRate, left, right);

            // Away from the ends, where silence joins.
            int edge = (int)Math.Ceiling(110.0 * Math.Max(1, (double)toRate / fromRate));
            Range middle = edge..^edge;
            double[] expected = new double[leftOutput.Length];
            for (int tone = 0; tone < heard.Length; tone++)
            {
                double step = heard[tone] * nyquist * fromRate / toRate;
                for (int m = 0; m < expected.Length; m++)
                {
                    expected[m] += Amplitude * Math.Sin(step * m + tone);
                }
            }

            // 0.01 dB of the highest tone and no more; the rest is flat to 10⁻⁴ dB, as ResamplerToneTests has it.
            double[] difference = [.. leftOutput[middle].Zip(expected[middle], (actual, wanted) => actual - wanted)];
            double ripple = Amplitude * (Math.Pow(10, 0.01 / 20) - 1 + 3 * (Math.Pow(10, 1e-4 / 20) - 1));
            Assert.True(difference.Max(Math.Abs) < ripple, $"{fromRate} to {toRate}: {difference.Max(Math.Abs)}");

            double reference = Amplitude / Math.Sqrt(2);
            double residualDb = 20 * Math.Log10(Residual(difference, [.. heard.Select(tone => tone * nyquist * fromRate / toRate)]) / reference);
            Assert.True(residualDb < -140, $"{fromRate} to {toRate}: {residualDb}");
            double vanishedDb = 20 * Math.Log10(Tone.RootMeanSquare(rightOutput.AsSpan(middle)) / reference);
            Assert.True(vanishedDb < -140, $"{fromRate} to {toRate}: {vanishedDb}");
        }
    }

    /// <summary>Root mean square of what is left when tones of these steps are taken out, one after the other until nothing more goes.</summary>
    private static double Residual(double[] signal, double[] steps)
    {
        for (int sweep = 0; sweep < 6; sweep++)
        {
            foreach (double step in steps)
            {
                (double sine, double cosine) = (0, 0);
                for (int n = 0; n < signal.Length; n++)
                {
                    (double s, double c) = Math.SinCos(step * n);
                    sine += signal[n] * s * 2 / signal.Length;
                    cosine += signal[n] * c * 2 / signal.Length;
                }

                for (int n = 0; n < signal.Length; n++)
                {
                    (double s, double c) = Math.SinCos(step * n);
                    signal[n] -= sine * s + cosine * c;
                }
            }
        }

        return Math.Sqrt(signal.Sum(sample => sample * sample) / signal.Length);
    }

    private static float[] Sum(int frames, double[] steps)
    {
        double[] sum = new double[frames];
        for (int tone = 0; tone < steps.Length; tone++)
        {
            for (int n = 0; n < frames; n++)
            {
                sum[n] += Amplitude * Math.Sin(steps[tone] * n + tone);
            }
        }

        return [.. sum.Select(sample => (float)sample)];
    }
}
