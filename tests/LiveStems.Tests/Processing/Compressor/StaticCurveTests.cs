using LiveStems.Processing.Processors.Compressor;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Compressor;

public class StaticCurveTests
{
    private const int SampleRate = 48_000;

    // REFERENCES 5.1, worked values of the paper's curve: threshold, ratio (100 stands for ∞), knee, level, gain in dB.
    public static TheoryData<double, double, double, double, double> WorkedValues { get; } = new()
    {
        { -20, 4, 0, -20, 0 }, { -20, 4, 0, -18, -1.5 }, { -20, 4, 0, -14, -4.5 }, { -20, 4, 0, -12, -6 }, { -20, 4, 0, -6, -10.5 }, { -20, 4, 0, 0, -15 },
        { -20, 4, 6, -23, 0 }, { -20, 4, 6, -22, -0.0625 }, { -20, 4, 6, -20, -0.5625 }, { -20, 4, 6, -18, -1.5625 }, { -20, 4, 6, -17, -2.25 }, { -20, 4, 6, -12, -6 }, { -20, 4, 6, 0, -15 },
        { -18, 2, 12, -24, 0 }, { -18, 2, 12, -22, -0.0833 }, { -18, 2, 12, -20, -0.3333 }, { -18, 2, 12, -18, -0.75 }, { -18, 2, 12, -14, -2.0833 }, { -18, 2, 12, -12, -3 }, { -18, 2, 12, 0, -9 },
        { -12, 100, 6, -15, 0 }, { -12, 100, 6, -14, -0.0833 }, { -12, 100, 6, -12, -0.75 }, { -12, 100, 6, -10, -2.0833 }, { -12, 100, 6, -9, -3 }, { -12, 100, 6, 0, -12 },
    };

    // A square wave's magnitude stands still, so the ballistics add nothing and the curve itself is heard.
    [Theory]
    [MemberData(nameof(WorkedValues))]
    public void ASteadyLevelGetsTheGainOfTheCurve(double thresholdDb, double ratio, double kneeDb, double levelDb, double expectedDb)
    {
        foreach (double topology in new[] { 0.0, 1 })
        {
            foreach (double detector in new[] { 0.0, 1 })
            {
                // The power detector reads a square wave of one peak 3.01 dB above the sine of that peak.
                double level = levelDb - 3.0103 * detector;
                float[] square = TestSignals.Square(SampleRate, 48, Math.Pow(10, level / 20));
                CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
                    SampleRate,
                    ("thresholdDb", thresholdDb), ("ratio", ratio), ("kneeDb", kneeDb), ("attackMs", 1), ("releaseMs", 20),
                    ("topology", topology), ("detector", detector), ("rmsWindowMs", 10));
                (float[] left, _) = ProcessorRun.Through(compressor, square, square);
                double gainDb = 20 * Math.Log10(left[^1] / square[^1]);
                Assert.Equal(expectedDb, gainDb, 0.01);
                Assert.Equal(expectedDb, compressor.GainReductionDb, 0.01);
            }
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void ASineGetsTheGainOfItsPeakOnBothDetectors(double detector)
    {
        // REFERENCES 5.2: the smooth decoupled detector reads −0.008 dB at 1 kHz with 10 and 100 ms; × 0.75 of slope.
        float[] sine = TestSignals.Sine(2 * SampleRate, 1000, SampleRate, 0.5);
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
            SampleRate,
            ("thresholdDb", -20), ("ratio", 4), ("kneeDb", 0), ("attackMs", 10), ("releaseMs", 100), ("detector", detector), ("rmsWindowMs", 50));
        (float[] left, _) = ProcessorRun.Through(compressor, sine, sine);
        double gainDb = 20 * Math.Log10(left.AsSpan(SampleRate).ToArray().Max() / 0.5);
        Assert.Equal(-0.75 * (20 + 20 * Math.Log10(0.5)), gainDb, 0.02);
    }

    [Fact]
    public void MakeUpGainIsAdded()
    {
        float[] square = TestSignals.Square(4800, 48, 0.05);
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(SampleRate, ("thresholdDb", 0), ("makeUpDb", 6));
        (float[] left, _) = ProcessorRun.Through(compressor, square, square);

        // Four roundings to single precision.
        Assert.Equal(0.05 * Math.Pow(10, 0.3), left[100], 3e-8);
    }

    [Fact]
    public void SoundBelowTheKneePassesBitForBit()
    {
        float[] signal = TestSignals.MusicLike(SampleRate, 1, 0.02);
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(SampleRate, ("thresholdDb", -10));
        (float[] left, float[] right) = ProcessorRun.Through(compressor, signal, signal);
        Assert.Equal(signal, left);
        Assert.Equal(signal, right);
    }

    [Fact]
    public void TheGainAgreesWithTheSameComputationInDoublePrecision()
    {
        // Stated accuracy of the vector functions and single-precision decibels: 0.0002 dB.
        float[] signal = TestSignals.MusicLike(SampleRate, 2);
        CompressorProcessor compressor = ProcessorRun.Prepared<CompressorProcessor>(
            SampleRate, ("thresholdDb", -35), ("ratio", 5), ("kneeDb", 8), ("attackMs", 2), ("releaseMs", 60));
        (float[] left, _) = ProcessorRun.Through(compressor, signal, signal);
        double attack = Math.Exp(-1 / (0.002 * SampleRate));
        double release = Math.Exp(-1 / (0.060 * SampleRate));
        double held = 0;
        double smoothed = 0;
        for (int n = 0; n < signal.Length; n++)
        {
            double wanted = -PaperGain(20 * Math.Log10(Math.Max(1e-8, Math.Abs(signal[n]))), -35, 5, 8);
            held = Math.Max(wanted, release * held + (1 - release) * wanted);
            smoothed = attack * smoothed + (1 - attack) * held;
            if (Math.Abs(signal[n]) > 1e-3)
            {
                Assert.Equal(-smoothed, 20 * Math.Log10(left[n] / signal[n]), 2e-4);
            }
        }
    }

    // Giannoulis, Massberg, Reiss 2012, eq. 4, as written there.
    private static double PaperGain(double x, double threshold, double ratio, double knee)
    {
        if (2 * (x - threshold) < -knee)
        {
            return 0;
        }

        double y = 2 * Math.Abs(x - threshold) <= knee
            ? x + (1 / ratio - 1) * Math.Pow(x - threshold + knee / 2, 2) / (2 * knee)
            : threshold + (x - threshold) / ratio;
        return y - x;
    }
}
