using LiveStems.Dsp.Resampling;
using Xunit;

namespace LiveStems.Tests.Dsp.Resampling;

/// <summary>What a listener's tones meet. Frequencies are fractions of the Nyquist frequency of the lower rate.</summary>
public class ResamplerToneTests
{
    private const double Amplitude = 0.9;

    [Theory]
    [MemberData(nameof(Resample.PairsAtBothPaces), MemberType = typeof(Resample))]
    public void ToneUpToTwentyKilohertzKeepsItsLevelAndItsTime(int fromRate, int toRate, ResamplingPace pace)
    {
        foreach (double fraction in (double[])[0.0453, 0.5, 0.9, 20 / 22.05])
        {
            Passage passage = Passage.Of(fromRate, toRate, fraction, pace);

            // The mastering figure of REFERENCES section 10 to 20 kHz at 44.1 kHz; flat to a thousandth of it up to 0.9.
            double rippleDb = fraction <= 0.9 ? 1e-4 : 0.01;
            Assert.InRange(passage.GainDb, -rippleDb, rippleDb);

            // Linear phase with the delay removed leaves no phase but that of rounding: 2⁻²⁵ in and 2⁻²⁵ out, which do not
            // average out for tones that repeat after a few frames.
            const double mostRounding = 2 / 33_554_432.0 / Amplitude;
            Assert.InRange(passage.PhaseError, -mostRounding, mostRounding);
        }
    }

    [Theory]
    [MemberData(nameof(Resample.PairsAtBothPaces), MemberType = typeof(Resample))]
    public void NothingButTheToneComesOutAboveMinus140Decibels(int fromRate, int toRate, ResamplingPace pace)
    {
        foreach (double fraction in (double[])[0.0453, 0.2221, 0.5, 0.9, 0.97, 0.9995])
        {
            Assert.True(Passage.Of(fromRate, toRate, fraction, pace).ResidualDb < -140, $"at {fraction}");
        }
    }

    [Theory]
    [MemberData(nameof(Resample.PairsAtBothPaces), MemberType = typeof(Resample))]
    public void ToneAboveTheLowerNyquistFrequencyVanishes(int fromRate, int toRate, ResamplingPace pace)
    {
        foreach (double fraction in (double[])[1.0005, 1.004, 1.02, 1.0887, 1.1, 1.4, 1.99])
        {
            if (fraction * Math.Min(fromRate, toRate) < fromRate)
            {
                Assert.True(Passage.Of(fromRate, toRate, fraction, pace).OutputDb < -140, $"at {fraction}");
            }
        }
    }

    /// <summary>A tone's way through the resampler, decibels relative to the tone put in.</summary>
    private sealed record Passage(double GainDb, double PhaseError, double ResidualDb, double OutputDb)
    {
        public static Passage Of(int fromRate, int toRate, double fraction, ResamplingPace pace)
        {
            const double phase = 0.3;
            double step = Math.PI * fraction * Math.Min(fromRate, toRate) / fromRate;
            int frames = (int)(5000.0 * Math.Max(1, fromRate / toRate));
            float[] tone = Tone.Sine(frames, step, Amplitude, phase);
            float[] output = Resample.All(fromRate, toRate, tone, tone, pace).Left;

            // Away from the ends, where silence joins.
            int edge = (int)Math.Ceiling(110.0 * Math.Max(1, (double)toRate / fromRate));
            ReadOnlySpan<float> middle = output.AsSpan(edge, output.Length - 2 * edge);
            (double amplitude, double found, double residual) = Tone.Fit(middle, edge, step * fromRate / toRate);
            double reference = Amplitude / Math.Sqrt(2);
            return new Passage(
                20 * Math.Log10(amplitude / Amplitude),
                found - phase,
                20 * Math.Log10(residual / reference),
                20 * Math.Log10(Tone.RootMeanSquare(middle) / reference));
        }
    }
}
