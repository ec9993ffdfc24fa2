using LiveStems.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Dsp.Dynamics;

public class BallisticsTests
{
    private const int SampleRate = 48_000;

    // REFERENCES 5.2: step 0 → 12 dB of reduction and back, τA 10 ms, τR 100 ms, 48 kHz, smooth decoupled.
    [Theory]
    [InlineData(5, 4.72163)]
    [InlineData(10, 7.58545)]
    [InlineData(20, 10.37598)]
    [InlineData(30, 11.40256)]
    public void AStepOfTwelveDecibelsRisesLikeTheWorkedValues(double milliseconds, double expectedDb)
    {
        float[] y = Step(attackFrames: SampleRate, releaseFrames: 0);
        Assert.Equal(expectedDb, y[(int)(milliseconds * 48) - 1], 1e-5);
    }

    // REFERENCES 5.2, the same row, release after a full attack.
    [Theory]
    [InlineData(50, 8.07726)]
    [InlineData(100, 4.90449)]
    [InlineData(200, 1.80428)]
    public void TheStepFallsLikeTheWorkedValues(double milliseconds, double expectedDb)
    {
        float[] y = Step(attackFrames: SampleRate, releaseFrames: SampleRate);
        Assert.Equal(expectedDb, y[SampleRate + (int)(milliseconds * 48) - 1], 1e-5);
    }

    [Fact]
    public void SixtyThreePerCentOfAnAttackTakeTheSetTime()
    {
        float[] y = Step(attackFrames: SampleRate, releaseFrames: 0);
        int frames = Array.FindIndex(y, value => value >= 12 * (1 - Math.Exp(-1))) + 1;
        Assert.InRange(frames, 479, 481);
    }

    // REFERENCES 5.2: a steady sine's |x| reads −0.008 dB re its peak at 1 kHz and −0.072 dB at 100 Hz.
    [Theory]
    [InlineData(1000, -0.008)]
    [InlineData(100, -0.072)]
    public void ASteadyToneReadsItsPeak(double frequencyHz, double expectedDb)
    {
        Ballistics ballistics = new();
        ballistics.SetTimes(10, 100, false, SampleRate);
        float[] x = [.. TestSignals.Sine(SampleRate, frequencyHz, SampleRate).Select(Math.Abs)];
        ballistics.Process(x, x);
        double mean = x.AsSpan(SampleRate - 4800).ToArray().Average();
        Assert.Equal(expectedDb, 20 * Math.Log10(mean), 0.002);
    }

    [Fact]
    public void AShortPeakIsForgottenQuicklyAndALongOneSlowly()
    {
        // Derived for a release of 100 ms (slow stage 800 ms up, 1200 ms down): while h = 12 e^(−t/100) the slow stage is
        // A e^(−t/τ) + B e^(−t/100) with B = −12/(τ/100 − 1). After 10 ms it starts at 0.149 dB, meets h at 228 ms with
        // 1.226 dB and falls from there for 272 ms; after 4 s it starts at 11.92 dB and falls for 500 ms.
        Assert.Equal(1.337 * Math.Exp(-272.0 / 1200) - 0.111 * Math.Exp(-2.72), HeldHalfASecondLater(peakMs: 10), 0.01);
        Assert.Equal(13.01 * Math.Exp(-500.0 / 1200) - 1.091 * Math.Exp(-5), HeldHalfASecondLater(peakMs: 4000), 0.01);
    }

    [Fact]
    public void WithoutProgrammeDependenceTheLengthOfAPeakDoesNotMatter()
    {
        double afterShort = HeldHalfASecondLater(peakMs: 100, programmeDependent: false);
        double afterLong = HeldHalfASecondLater(peakMs: 4000, programmeDependent: false);
        Assert.Equal(afterLong, afterShort, 0.01);
    }

    [Fact]
    public void TwoChannelsGiveWhatEachGivesAlone()
    {
        float[] left = [.. TestSignals.MusicLike(1003, 1).Select(x => Math.Abs(20 * x))];
        float[] right = [.. TestSignals.MusicLike(1003, 2).Select(x => Math.Abs(20 * x))];
        float[] leftAlone = [.. left];
        float[] rightAlone = [.. right];
        Ballistics both = Fresh();
        Ballistics one = Fresh();
        Ballistics other = Fresh();
        both.Process(left, right);
        one.Process(leftAlone, leftAlone);
        other.Process(rightAlone, rightAlone);
        Assert.Equal(leftAlone, left);
        Assert.Equal(rightAlone, right);
        Assert.True(one.ChannelsAgree);
        Assert.False(both.ChannelsAgree);

        static Ballistics Fresh()
        {
            Ballistics ballistics = new();
            ballistics.SetTimes(3, 70, true, SampleRate);
            return ballistics;
        }
    }

    private static float[] Step(int attackFrames, int releaseFrames)
    {
        Ballistics ballistics = new();
        ballistics.SetTimes(10, 100, false, SampleRate);
        float[] x = new float[attackFrames + releaseFrames];
        x.AsSpan(0, attackFrames).Fill(12);
        ballistics.Process(x, x);
        return x;
    }

    private static double HeldHalfASecondLater(int peakMs, bool programmeDependent = true)
    {
        Ballistics ballistics = new();
        ballistics.SetTimes(0.1, 100, programmeDependent, SampleRate);
        float[] x = new float[(peakMs + 500) * 48];
        x.AsSpan(0, peakMs * 48).Fill(12);
        ballistics.Process(x, x);
        return x[^1];
    }
}
