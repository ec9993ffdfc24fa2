using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class DetectorTests
{
    private const int SampleRate = 48_000;

    [Theory]
    [InlineData(0, LevelDetector.FloorDb)]
    [InlineData(float.NaN, LevelDetector.FloorDb)]
    [InlineData(float.PositiveInfinity, 120)]
    [InlineData(1, 0)]
    [InlineData(0.5f, -6.0206)]
    public void MagnitudesReadTheirLevelAndNothingReadsOutsideTheRange(float magnitude, double expectedDb)
    {
        Assert.Equal(expectedDb, LevelDetector.MagnitudeDb(Vector256.Create(magnitude))[2], 1e-4);
    }

    [Fact]
    public void ASineHasOneLevelOnThePeakAndThePowerDetector()
    {
        PowerDetector detector = new();
        detector.SetWindow(50, SampleRate);
        float[] sine = TestSignals.Sine(SampleRate, 1000, SampleRate, 0.25);
        float[] power = new float[sine.Length];
        detector.Process(sine, sine, power, power);

        // Ripple of x² through a one-pole of 50 ms at 2 kHz: 1/√(1 + (2π · 2000 · 0.05)²) = 0.0016, that is 0.007 dB.
        Assert.Equal(20 * Math.Log10(0.25), LevelDetector.PowerDb(Vector256.Create(power[^1]))[0], 0.008);
    }

    // Butterworth of order 2, bilinear: |H|² = w⁴/(1 + w⁴) with w = tan(π f/fs)/tan(π fc/fs) (derived).
    [Theory]
    [InlineData(20, 20)]
    [InlineData(100, 100)]
    [InlineData(500, 500)]
    [InlineData(100, 25)]
    [InlineData(100, 1000)]
    [InlineData(500, 60)]
    public void TheKeyHighPassFollowsButterworth(double cornerHz, double frequencyHz)
    {
        KeyHighPass filter = new();
        filter.SetCorner(cornerHz, SampleRate);
        float[] sine = TestSignals.Sine(2 * SampleRate, frequencyHz, SampleRate);
        filter.Process(sine, sine, sine, sine);
        double peak = sine.AsSpan(SampleRate).ToArray().Max(Math.Abs);
        double w = Math.Tan(Math.PI * frequencyHz / SampleRate) / Math.Tan(Math.PI * cornerHz / SampleRate);
        double expected = Math.Sqrt(Math.Pow(w, 4) / (1 + Math.Pow(w, 4)));
        Assert.Equal(20 * Math.Log10(expected), 20 * Math.Log10(peak), 0.01);
    }

    [Fact]
    public void ABadSampleDoesNotStayInADetector()
    {
        float[] key = TestSignals.Sine(4800, 1000, SampleRate, 0.25);
        float[] spoilt = [.. key];
        spoilt[10] = float.NaN;
        spoilt[20] = float.NegativeInfinity;
        PowerDetector power = new();
        power.SetWindow(5, SampleRate);
        KeyHighPass filter = new();
        filter.SetCorner(100, SampleRate);
        filter.Process(spoilt, spoilt, spoilt, spoilt);
        power.Process(spoilt, spoilt, spoilt, spoilt);
        Assert.All(spoilt, value => Assert.True(float.IsFinite(value)));
    }
}
