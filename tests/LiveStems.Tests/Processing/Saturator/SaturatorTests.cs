using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.Dsp.Nonlinear;
using LiveStems.Processing.Processors.Saturator;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Saturator;

public class SaturatorTests
{
    private const int SampleRate = 48_000;
    private const int Period = 480;

    // Chebyshev: T₂(cos θ) = cos 2θ and T₃(cos θ) = cos 3θ, so 0.1 at amplitude 1, and 0.1 A² and 0.1 A³ below
    // (A² cos² θ = A²/2 + A² cos 2θ / 2; A³ cos³ θ = 3 A³ cos θ / 4 + A³ cos 3θ / 4). The high-pass at 5 Hz takes 0.01 dB
    // from 100 Hz.
    [Theory]
    [InlineData(ShapingCurve.Second, 2, 1, 0.1)]
    [InlineData(ShapingCurve.Second, 2, 0.5, 0.025)]
    [InlineData(ShapingCurve.Third, 3, 1, 0.1)]
    [InlineData(ShapingCurve.Third, 3, 0.5, 0.0125)]
    public void HarmonicGeneratorsMakeOneHarmonicOfTheChebyshevLevel(ShapingCurve curve, int harmonic, double amplitude, double level)
    {
        float[] output = OfSine(curve, amplitude, 0);
        Assert.Equal(Decibels.FromAmplitude(level), Decibels.FromAmplitude(Harmonics.Amplitude(output, Period, harmonic)), 0.02);
        for (int other = 2; other < 20; other++)
        {
            if (other != harmonic)
            {
                Assert.True(Decibels.FromAmplitude(Harmonics.Amplitude(output, Period, other)) < -110, $"harmonic {other}");
            }
        }
    }

    // sin(z cos θ) has the odd harmonics 2 J_n(z) (Jacobi and Anger; Abramowitz and Stegun 9.1.43), z = π/2 · drive.
    [Theory]
    [InlineData(1, 0)]
    [InlineData(1, 12)]
    [InlineData(0.3, 0)]
    public void FoldMakesBesselHarmonics(double amplitude, double driveDb)
    {
        float[] output = OfSine(ShapingCurve.Fold, amplitude, driveDb);
        double z = Math.PI / 2 * amplitude * Decibels.ToAmplitude(driveDb);
        for (int n = 1; n <= 7; n += 2)
        {
            Assert.Equal(2 * Math.Abs(Harmonics.BesselJ(n, z)), Harmonics.Amplitude(output, Period, n), 2e-4);
        }
    }

    // Fourier's integral of the curve itself.
    [Theory]
    [InlineData(ShapingCurve.Soft, 0)]
    [InlineData(ShapingCurve.Soft, 12)]
    [InlineData(ShapingCurve.Asymmetric, 0)]
    [InlineData(ShapingCurve.Asymmetric, 12)]
    public void HyperbolicCurvesMakeTheHarmonicsOfTheirFormula(ShapingCurve curve, double driveDb)
    {
        Func<double, double> formula = curve == ShapingCurve.Soft
            ? Math.Tanh
            : x => (Math.Tanh(x + 0.5) - Math.Tanh(0.5)) * Math.Pow(Math.Cosh(0.5), 2);
        float[] output = OfSine(curve, 1, driveDb);
        for (int n = 1; n <= 9; n++)
        {
            double expected = Harmonics.OfCurve(formula, Decibels.ToAmplitude(driveDb), n);
            if (expected > 1e-4)
            {
                Assert.Equal(Decibels.FromAmplitude(expected), Decibels.FromAmplitude(Harmonics.Amplitude(output, Period, n)), 0.02);
            }
        }
    }

    [Theory]
    [InlineData(ShapingCurve.Soft)]
    [InlineData(ShapingCurve.Asymmetric)]
    [InlineData(ShapingCurve.Second)]
    [InlineData(ShapingCurve.Third)]
    [InlineData(ShapingCurve.Fold)]
    public void NoCurveLeavesDc(ShapingCurve curve) =>
        Assert.True(Decibels.FromAmplitude(Harmonics.Amplitude(OfSine(curve, 1, 12), Period, 0)) < -110);

    // 5 kHz at 44.1 kHz repeats after 441 frames, so every product of the curve, folded or not, is a multiple of 100 Hz and
    // all but 5, 10, 15 and 20 kHz are aliases.
    [Theory]
    [InlineData(ShapingCurve.Soft)]
    [InlineData(ShapingCurve.Asymmetric)]
    [InlineData(ShapingCurve.Second)]
    [InlineData(ShapingCurve.Third)]
    [InlineData(ShapingCurve.Fold)]
    public void AliasesOfAHardDrivenTrebleToneAreInaudible(ShapingCurve curve)
    {
        SaturatorProcessor processor = Prepared(44_100, curve, 24, ("oversampling", 3));
        float[] tone = TestSignals.Sine(441 * 100, 5000, 44_100);
        float[] output = ProcessorRun.Through(processor, tone, tone).Left;
        double worst = double.NegativeInfinity;
        for (int multiple = 1; multiple <= 220; multiple++)
        {
            if (multiple % 50 != 0)
            {
                worst = Math.Max(worst, Decibels.FromAmplitude(Harmonics.Amplitude(output, 441, multiple)));
            }
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{curve}: {worst:0.0} dBFS");
        Assert.True(worst < -100, $"{curve}: {worst:0.0} dBFS");
    }

    [Theory]
    [InlineData(ShapingCurve.Soft, 18, 0)]
    [InlineData(ShapingCurve.Asymmetric, 12, 6)]
    [InlineData(ShapingCurve.Second, 12, 0)]
    [InlineData(ShapingCurve.Third, 6, -6)]
    [InlineData(ShapingCurve.Fold, 6, 0)]
    public void MatchedLoudnessIsThatOfTheInput(ShapingCurve curve, double driveDb, double tiltDb)
    {
        float[] left = TestSignals.MusicLike(12 * SampleRate, 5, 0.3);
        float[] right = TestSignals.MusicLike(12 * SampleRate, 6, 0.3);
        SaturatorProcessor processor = Prepared(SampleRate, curve, driveDb, ("matchLoudness", 1), ("tiltDb", tiltDb));
        (float[] l, float[] r) = ProcessorRun.Through(processor, left, right);
        const int Settled = 4 * SampleRate;
        Assert.Equal(Loudness(left[Settled..], right[Settled..]), Loudness(l[Settled..], r[Settled..]), 0.3);
    }

    // Quiet sound stays on the straight part of the curve (tanh x − x = −x³/3: 3e-9 at 2e-3), so emphasis and de-emphasis
    // must cancel and only the latency is left.
    [Fact]
    public void EmphasisLeavesQuietSoundAsItWas()
    {
        SaturatorProcessor processor = Prepared(SampleRate, ShapingCurve.Soft, 0, ("tiltDb", 12));
        float[] tone = TestSignals.Sine(9600, 3000, SampleRate, 5e-4);
        float[] output = ProcessorRun.Through(processor, tone, tone).Left;
        for (int n = 4800; n < tone.Length; n++)
        {
            Assert.Equal(tone[n - processor.LatencyFrames], output[n], 2e-8f);
        }
    }

    private static float[] OfSine(ShapingCurve curve, double amplitude, double driveDb)
    {
        float[] sine = TestSignals.Sine(SampleRate, 100, SampleRate, amplitude, Math.PI / 2);
        return ProcessorRun.Through(Prepared(SampleRate, curve, driveDb), sine, sine).Left;
    }

    private static SaturatorProcessor Prepared(int sampleRate, ShapingCurve curve, double driveDb, params (string, double)[] others) =>
        ProcessorRun.Prepared<SaturatorProcessor>(
            sampleRate, [("curve", (double)curve), ("driveDb", driveDb), ("matchLoudness", 0), .. others]);

    private static double Loudness(float[] left, float[] right)
    {
        LoudnessMeter meter = new(SampleRate);
        meter.Add(left, right);
        return meter.IntegratedLufs;
    }
}
