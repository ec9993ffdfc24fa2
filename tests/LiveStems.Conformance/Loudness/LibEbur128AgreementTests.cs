using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Conformance.Loudness;

/// <summary>Our meters beside libebur128 1.2.6 on the same samples.</summary>
public class LibEbur128AgreementTests
{
    public static TheoryData<string> Programmes => [.. ReferenceProgrammes.Names];

    [Theory]
    [MemberData(nameof(Programmes))]
    public void LoudnessAndTruePeakAgreeAt48Kilohertz(string programme)
    {
        (float[] left, float[] right) = ReferenceProgrammes.Make(programme, 48_000);
        using LibEbur128 theirs = new(48_000);
        theirs.Add(left, right);
        LoudnessMeter loudness = new(48_000);
        loudness.Add(left, right);
        TruePeakMeter peak = new();
        peak.Add(left, right);

        // The same filter and the same blocks: only the bin at the gate may fall otherwise.
        Assert.Equal(theirs.IntegratedLufs, loudness.IntegratedLufs, 0.02);
        Assert.Equal(theirs.MomentaryLufs, loudness.MomentaryLufs, 0.0001);
        Assert.Equal(theirs.ShortTermLufs, loudness.ShortTermLufs, 0.0001);
        Assert.Equal(theirs.TruePeakDbtp, peak.TruePeakDbtp, 0.1);
    }

    [Theory]
    [InlineData(44_100)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void LoudnessAgreesAtOtherRatesWithinTheirDrift(int sampleRate)
    {
        // libebur128 keeps the high-pass numerator at 1, −2, 1 at every rate: 0.033 dB off at 192 kHz, and its bilinear
        // shelf up to 0.008 dB. Ours follows the response at 48 kHz, as BS.1770-5 asks.
        (float[] left, float[] right) = ReferenceProgrammes.Make("chords", sampleRate);
        using LibEbur128 theirs = new(sampleRate);
        theirs.Add(left, right);
        LoudnessMeter ours = new(sampleRate);
        ours.Add(left, right);
        double drift = -Decibels(new KWeighting(sampleRate).HighPassGain);
        Assert.Equal(theirs.IntegratedLufs, ours.IntegratedLufs + drift, 0.02);
    }

    [Fact]
    public void MomentaryAndShortTermAgreeAtEveryTenthOfASecond()
    {
        (float[] left, float[] right) = ReferenceProgrammes.Make("noise bursts", 48_000);
        using LibEbur128 theirs = new(48_000);
        LoudnessMeter ours = new(48_000);
        const int Block = 4_800;
        for (int start = 0; start < left.Length; start += Block)
        {
            theirs.Add(left.AsSpan(start, Block), right.AsSpan(start, Block));
            ours.Add(left.AsSpan(start, Block), right.AsSpan(start, Block));
            Assert.Equal(theirs.MomentaryLufs, ours.MomentaryLufs, 0.0001);
            Assert.Equal(theirs.ShortTermLufs, ours.ShortTermLufs, 0.0001);
        }
    }

    [Theory]
    [InlineData(new double[] { -20, -30 })]
    [InlineData(new double[] { -20, -15 })]
    [InlineData(new double[] { -40, -20 })]
    [InlineData(new double[] { -50, -35, -20, -35, -50 })]
    public void LoudnessRangeOfStretchesAgrees(double[] levels)
    {
        // libebur128 takes a value every second (Tech 3342 V4 asks for a tenth): with stretches of 20 s no percentile falls
        // between two levels.
        ToneProgramme programme = new(48_000);
        Array.ForEach(levels, level => programme.Tone(level, 20));
        float[] samples = programme.Samples;
        using LibEbur128 theirs = new(48_000);
        theirs.Add(samples, samples);
        LoudnessMeter ours = new(48_000);
        ours.Add(samples, samples);
        Assert.Equal(theirs.LoudnessRangeLu, ours.LoudnessRangeLu, 0.01);
        Assert.Equal(theirs.IntegratedLufs, ours.IntegratedLufs, 0.001);
    }

    [Fact]
    public void OnBrightSignalsOurTruePeakIsNearerTheTruth()
    {
        // libebur128's windowed sinc of 12 taps a phase is 0.9 dB down at 19.2 kHz between the samples (0.4 of the sample
        // rate; computed with numpy from its taps).
        double ourError = 0;
        double theirError = 0;
        for (int seed = 1; seed <= 10; seed++)
        {
            float[] noise = BrightNoise(48_000, seed);
            using LibEbur128 theirs = new(48_000);
            theirs.Add(noise, noise);
            TruePeakMeter ours = new();
            ours.Add(noise, noise);
            ours.Finish();
            PrecisePeakMeter truth = new();
            truth.Add(noise, noise);
            truth.Finish();
            ourError += Math.Abs(ours.TruePeakDbtp - truth.TruePeakDbtp);
            theirError += Math.Abs(theirs.TruePeakDbtp - truth.TruePeakDbtp);
        }

        Assert.True(ourError < theirError, $"mean error: ours {ourError / 10:F3} dB, theirs {theirError / 10:F3} dB");
    }

    private static float[] BrightNoise(int frames, int seed)
    {
        Random random = new(seed);
        float[] noise = new float[frames];
        float state = 0;
        for (int n = 0; n < frames; n++)
        {
            state += 0.7f * (random.NextSingle() - 0.5f - state);
            noise[n] = state;
        }

        return noise;
    }

    private static double Decibels(double gain) => 20 * Math.Log10(gain);
}
