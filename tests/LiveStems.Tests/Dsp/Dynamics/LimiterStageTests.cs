using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class LimiterStageTests
{
    // REFERENCES 5.3: an impulse of 2 at n = 200 through a look-ahead of 48 with a ceiling of 1 comes out at exactly 1,
    // and the gain is below 1 around it and nowhere else.
    [Fact]
    public void AnImpulseOfTwiceTheCeilingComesOutAtTheCeiling()
    {
        const int Smoothing = 48;
        LimiterStage stage = new(new LimiterStageShape(Smoothing, 0, 0, 16, 5, false), 512);
        stage.SetRelease(0, false, 48_000);
        float[] left = new float[512];
        left[200] = 2;
        float[] right = new float[512];
        Array.Fill(right, 1e-3f);
        stage.Process(left, right, new Ramp(0), 1, 0);

        int peakAt = 200 + stage.DelaySamples;
        Assert.Equal(16 + 3 + Smoothing - 1, stage.DelaySamples);

        // 1.2e-6 of error in log2 and 2.4e-7 in the power.
        Assert.Equal(1, left[peakAt], 2e-6);
        Assert.All(Enumerable.Range(0, 512).Where(n => n != peakAt), n => Assert.Equal(0, left[n]));

        // The right channel shows the gain: the impulse is felt in the intervals before and after it, each for N + 1 of
        // maximum and N of mean.
        int first = Array.FindIndex(right, stage.DelaySamples, value => value < 0.99999e-3f);
        int last = Array.FindLastIndex(right, value => value < 0.99999e-3f);
        Assert.InRange(first, peakAt - Smoothing, peakAt - Smoothing + 4);
        Assert.InRange(last, peakAt + Smoothing - 4, peakAt + Smoothing + 1);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(0.5)]
    [InlineData(0)]
    public void TheGainNeverComesLateOrLeavesEarly(double link)
    {
        // The gain over an interval, H samples before to H after, is at most what its peak needs.
        const int Smoothing = 40;
        const int Hold = 7;
        const int Frames = 2000;
        LimiterStage stage = new(new LimiterStageShape(Smoothing, Hold, 30, 16, 5, false), 256);
        stage.SetRelease(5, true, 48_000);
        stage.SetLink((float)link);
        float[] signal = TestSignals.MusicLike(Frames, 3, 3);
        float[] other = TestSignals.MusicLike(Frames, 4, 1);
        InterSamplePeak peaks = new(16, 5, false, 4096);
        float[] needs = new float[4096 + 8];
        peaks.Process(signal, float.MaxValue, needs);

        float[] left = [.. signal];
        float[] right = [.. other];
        for (int start = 0; start < Frames; start += 100)
        {
            stage.Process(left.AsSpan(start, 100), right.AsSpan(start, 100), new Ramp(0), 1, 0);
        }

        for (int t = Hold + 1; t < Frames - stage.DelaySamples - Hold - 2; t++)
        {
            float peak = needs[t + peaks.DelaySamples];
            for (int n = t - Hold; peak > 1 && n <= t + 1 + Hold; n++)
            {
                float gain = Math.Abs(signal[n]) < 1e-6 ? 0 : left[n + stage.DelaySamples] / signal[n];
                Assert.True(gain <= 1 / peak * 1.00001, $"gain {gain} at {n} for a peak of {peak} at {t}");
            }
        }
    }

    [Fact]
    public void ChannelsThatAreLinkedAgainTreatBothAlike()
    {
        LimiterStage stage = new(new LimiterStageShape(40, 4, 30, 16, 5, false), 256);
        stage.SetRelease(20, true, 48_000);
        stage.SetLink(0);
        float[] loud = TestSignals.MusicLike(4000, 3, 4);
        float[] quiet = [.. TestSignals.MusicLike(4000, 4, 0.1)];
        float[] left = [.. loud];
        float[] right = [.. quiet];
        for (int start = 0; start < 4000; start += 100)
        {
            stage.SetLink(start < 2000 ? 0 : 1);
            stage.Process(left.AsSpan(start, 100), right.AsSpan(start, 100), new Ramp(0), 1, 0);
        }

        Assert.Equal(quiet[1500], right[1500 + stage.DelaySamples]);
        for (int n = 2000 + 150; n < 4000 - stage.DelaySamples; n++)
        {
            double gainLeft = left[n + stage.DelaySamples] / loud[n];
            double gainRight = right[n + stage.DelaySamples] / quiet[n];
            Assert.Equal(gainLeft, gainRight, 1e-6);
        }
    }
}
