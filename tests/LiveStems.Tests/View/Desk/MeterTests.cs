using LiveStems.Tests.Signals;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public class MeterTests
{
    private const int SampleRate = 48_000;

    // EBU Tech 3341 case 1: a stereo sine of 1000 Hz at −23 dBFS reads −23.0 LUFS in M, S and I, ±0.1.
    [Fact]
    public void TheFirstCaseOfTheStandardReadsAsItSays()
    {
        MasterListener meters = new(SampleRate);
        float[] sine = DeskAlbum.Tone(1000, (float)Math.Pow(10, -23 / 20.0), 20 * SampleRate);
        meters.Add(sine, sine);
        MeterReadings readings = meters.Readings;
        Assert.Equal(-23, readings.MomentaryLufs, 0.1);
        Assert.Equal(-23, readings.ShortTermLufs, 0.1);
        Assert.Equal(-23, readings.IntegratedLufs, 0.1);
        Assert.Equal(-23, readings.MaximumTruePeakDbtp, 0.2);
        Assert.Equal(0, readings.PeakToLoudnessLu!.Value, 0.2);
        Assert.Equal(1, readings.Correlation, 1e-6);
        Assert.Equal(20, readings.MeasuredSeconds, 0.05);
    }

    [Fact]
    public void ResetStartsAnewAndPauseHolds()
    {
        MasterListener meters = new(SampleRate);
        float[] loud = DeskAlbum.Tone(1000, 0.5f, 3 * SampleRate);
        float[] soft = DeskAlbum.Tone(1000, 0.05f, 3 * SampleRate);
        meters.Add(loud, loud);
        double before = meters.Readings.IntegratedLufs;
        meters.Run(false);
        meters.Add(soft, soft);
        Assert.Equal(before, meters.Readings.IntegratedLufs);
        Assert.True(meters.Readings.ShortTermLufs < before - 10);
        meters.Run(true);
        meters.Reset();
        meters.Add(soft, soft);
        Assert.Equal(before - 20, meters.Readings.IntegratedLufs, 0.2);
    }

    [Fact]
    public void CorrelationTellsMonoFromStereoFromTurnedOver()
    {
        float[] left = Noise.White(SampleRate, 1, 0.2f);
        float[] other = Noise.White(SampleRate, 2, 0.2f);
        Assert.Equal(1, Correlation(left, left), 1e-9);
        Assert.Equal(-1, Correlation(left, [.. left.Select(sample => -sample)]), 1e-9);

        // Over 0.3 s some 28 800 independent samples count: a standard deviation of 1/√28 800 = 0.006; six of them.
        Assert.Equal(0, Correlation(left, other), 0.036);
        Assert.Equal(1, Correlation(new float[1000], new float[1000]));
    }

    [Fact]
    public void APeakRisesAtOnceAndFallsEvenly()
    {
        FallingPeak peak = new();
        peak.Add(0.5, 0);
        Assert.Equal(-6.02, peak.Db, 0.01);
        peak.Add(0, 1.7);
        Assert.Equal(-26.02, peak.Db, 0.01);
        peak.Add(0, 60);
        Assert.Equal(double.NegativeInfinity, peak.Db);
    }

    private static double Correlation(float[] left, float[] right)
    {
        CorrelationMeter meter = new(0.3 * SampleRate);
        meter.Add(left, right);
        return meter.Value;
    }
}
