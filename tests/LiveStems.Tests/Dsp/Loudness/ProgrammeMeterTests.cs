using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Tests.Dsp.Loudness;

public class ProgrammeMeterTests
{
    [Fact]
    public void OnlyTheLoudnessRangeHearsTheSilenceAfterTheEnd()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 20, 1);
        LoudnessMeter live = new(48_000);
        live.Add(left, right);
        LoudnessReport report = Measure(48_000, left, right);
        Assert.Equal(live.IntegratedLufs, report.IntegratedLufs);
        Assert.Equal(live.MaximumMomentaryLufs, report.MaximumMomentaryLufs);
        Assert.Equal(live.MaximumShortTermLufs, report.MaximumShortTermLufs);

        // Tech 3342: the range is that of the programme with 1.5 s of silence appended.
        float[] longLeft = [.. left, .. new float[72_000]];
        float[] longRight = [.. right, .. new float[72_000]];
        LoudnessMeter appended = new(48_000);
        appended.Add(longLeft, longRight);
        Assert.Equal(appended.LoudnessRangeLu, report.LoudnessRangeLu);
        Assert.NotEqual(live.LoudnessRangeLu, report.LoudnessRangeLu);
    }

    [Fact]
    public void TheSilenceBeginsAtTheLastFrameOfAProgrammeOfAnyLength()
    {
        (float[] left, float[] right) = MovingNoise.Make(44_100, 9.0137, 2);
        float[] longLeft = [.. left, .. new float[66_150]];
        float[] longRight = [.. right, .. new float[66_150]];
        LoudnessMeter appended = new(44_100);
        appended.Add(longLeft, longRight);
        Assert.Equal(appended.LoudnessRangeLu, Measure(44_100, left, right).LoudnessRangeLu);
    }

    [Fact]
    public void PeaksOfTheVeryLastFramesCount()
    {
        float[] samples = new float[5000];
        for (int n = 4900; n < samples.Length; n++)
        {
            samples[n] = n % 4 < 2 ? 0.5f : -0.5f;
        }

        LoudnessReport report = Measure(48_000, samples, samples);
        Assert.Equal(Decibels.FromAmplitude(0.5), report.SamplePeakDbfs, 1e-9);
        Assert.True(report.TruePeakDbtp > report.SamplePeakDbfs + 2.9);
    }

    [Fact]
    public void PeakToLoudnessIsTheirDifference()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 5, 3);
        LoudnessReport report = Measure(48_000, left, right);
        Assert.Equal(report.TruePeakDbtp - report.IntegratedLufs, report.PeakToLoudnessLu);
        Assert.Null(Measure(48_000, new float[48_000], new float[48_000]).PeakToLoudnessLu);
    }

    [Fact]
    public void AFinishedProgrammeTakesNoMoreUntilReset()
    {
        (float[] left, float[] right) = MovingNoise.Make(48_000, 5, 4);
        ProgrammeMeter meter = new(48_000);
        meter.Add(left, right);
        LoudnessReport first = meter.Finish();
        Assert.Same(first, meter.Finish());
        Assert.Throws<InvalidOperationException>(() => meter.Add(left, right));
        meter.Reset();
        meter.Add(left, right);
        Assert.Equal(first, meter.Finish());
    }

    [Fact]
    public void AnEmptyProgrammeHasAReport()
    {
        LoudnessReport report = new ProgrammeMeter(48_000).Finish();
        Assert.Equal(double.NegativeInfinity, report.IntegratedLufs);
        Assert.Equal(double.NegativeInfinity, report.TruePeakDbtp);
        Assert.Equal(0, report.LoudnessRangeLu);
    }

    private static LoudnessReport Measure(int sampleRate, float[] left, float[] right)
    {
        ProgrammeMeter meter = new(sampleRate);
        meter.Add(left, right);
        return meter.Finish();
    }
}
