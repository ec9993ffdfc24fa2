using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Filters;
using LiveStems.Processing.Processors.Equaliser;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;
using static LiveStems.Tests.Processing.Equaliser.EqualiserSetup;

namespace LiveStems.Tests.Processing.Equaliser;

public class DynamicBandTests
{
    // The detector lets ±5 % of the power's ripple through, ±0.21 dB, of which the release holds the upper side; the curve
    // makes its slope of that.
    private const double RippleDb = 0.22;

    private static readonly (string, double)[] Bell1k =
        [("band1.frequencyHz", 1000), ("band1.q", 1), ("band1.dynamic", 1), ("band1.attackMs", 10), ("band1.releaseMs", 100)];

    // The static curve of Giannoulis, Massberg, Reiss (eq. 4), held to the range, for a tone at the centre of bell and key band.
    [Theory]
    [InlineData(-40, 2, 6, -12)]
    [InlineData(-24, 2, 6, -12)]
    [InlineData(-20, 2, 6, -12)]
    [InlineData(-10, 2, 6, -12)]
    [InlineData(-4, 4, 0, -12)]
    [InlineData(-10, 100, 3, -6)]
    [InlineData(-10, 4, 6, 9)]
    public void SteadyToneGetsTheGainOfTheCurve(double levelDb, double ratio, double kneeDb, double rangeDb)
    {
        EqualiserProcessor equaliser = Prepared(
            48_000, [.. Bell1k, ("band1.thresholdDb", -24), ("band1.ratio", ratio), ("band1.kneeDb", kneeDb), ("band1.rangeDb", rangeDb)]);
        float[] output = Through(equaliser, Sine(1000, levelDb, 1.5));
        double wanted = Math.Min(Math.Abs(rangeDb), GainComputer.Compressor(-24, ratio, kneeDb).ReductionDb(levelDb));
        Assert.Equal(levelDb + Math.Sign(rangeDb) * wanted, LevelDb(output.AsSpan(48_000), 1000), RippleDb * (1 - 1 / ratio));
    }

    [Fact]
    public void BandThatActsBelowTheThresholdRaisesWhatIsQuiet()
    {
        (string, double)[] settings = [.. Bell1k, ("band1.acts", 1), ("band1.thresholdDb", -30), ("band1.rangeDb", 6), ("band1.ratio", 2), ("band1.kneeDb", 0)];
        Assert.Equal(-20, LevelDb(Through(Prepared(48_000, settings), Sine(1000, -20, 1.5)).AsSpan(48_000), 1000), 0.05);
        Assert.Equal(-34 + 4, LevelDb(Through(Prepared(48_000, settings), Sine(1000, -34, 1.5)).AsSpan(48_000), 1000), RippleDb + 0.01);
        Assert.Equal(-50 + 6, LevelDb(Through(Prepared(48_000, settings), Sine(1000, -50, 1.5)).AsSpan(48_000), 1000), 0.05);
    }

    // In full use a band is the static one with range added to its gain: the matched design of the analogue bell, whose
    // own test allows 0.1 dB; the ladder between two designs 0.008 dB.
    [Theory]
    [InlineData(FilterShape.Bell, 9000, 2, 3, -12)]
    [InlineData(FilterShape.Bell, 200, 0.7, -4, -9)]
    [InlineData(FilterShape.HighShelf, 6000, 0.7, 0, -8)]
    [InlineData(FilterShape.LowShelf, 150, 0.7, 2, 7)]
    [InlineData(FilterShape.Tilt, 800, 0.5, 1, -6)]
    public void BandInFullUseIsTheStaticBandOfThatGain(FilterShape shape, double frequencyHz, double q, double gainDb, double rangeDb)
    {
        FilterSettings full = new(shape, frequencyHz, gainDb + rangeDb, q, 2);
        EqualiserProcessor equaliser = Prepared(
            44_100,
            ("band1.shape", (int)shape), ("band1.frequencyHz", frequencyHz), ("band1.q", q), ("band1.gainDb", gainDb), ("band1.dynamic", 1),
            ("band1.rangeDb", rangeDb), ("band1.ratio", 100), ("band1.thresholdDb", -70), ("band1.keySignal", 1));

        // The key, far above the threshold, holds the band in full use; the sound itself is far below it.
        float[] key = Sine(frequencyHz * (shape == FilterShape.LowShelf ? 0.5 : shape == FilterShape.Bell ? 1 : 2), -6, 2, 44_100);
        foreach (double tone in new[] { 60, 150, 500, 2000, 6000, 9000, 15_000, 19_000 })
        {
            equaliser.Reset();
            float[] output = Through(equaliser, Sine(tone, -30, 2, 44_100), key);
            Assert.Equal(AnaloguePrototype.GainDb(full, tone), LevelDb(output.AsSpan(44_100), tone, 44_100) + 30, 0.1);
        }
    }

    [Fact]
    public void QuietAndLoudSongsAreTreatedAlikeBesideTheirLongTermLevel()
    {
        (string, double)[] settings =
            [.. Bell1k, ("band1.thresholdReference", 1), ("band1.thresholdDb", 4), ("band1.rangeDb", -12), ("band1.ratio", 100), ("band1.kneeDb", 3)];
        double[] loud = Swells(0), quiet = Swells(-24);
        for (int i = 0; i < loud.Length; i++)
        {
            Assert.Equal(loud[i], quiet[i] + 24, 0.01);
        }

        // The swell stands 10 dB above the rest: with a mean somewhere between, it loses something but not all.
        Assert.InRange(loud[1] - -20, -11, -1);
        Assert.Equal(-30, loud[0], 0.1);

        double[] Swells(double offsetDb)
        {
            float[] sound = [.. Sine(1000, -30 + offsetDb, 4), .. Sine(1000, -20 + offsetDb, 0.5), .. Sine(1000, -30 + offsetDb, 1)];
            float[] output = Through(Prepared(48_000, settings), sound);
            return [LevelDb(output.AsSpan(144_000, 40_000), 1000), LevelDb(output.AsSpan(200_000, 12_000), 1000)];
        }
    }

    // Low notes bring mud at 250 Hz with them; the bell there listens to the notes' own range and lets high notes pass.
    [Fact]
    public void LowNoteMudIsTakenDownWhileHighNotesPass()
    {
        (string, double)[] settings =
        [
            ("band1.frequencyHz", 250), ("band1.q", 1.4), ("band1.dynamic", 1), ("band1.rangeDb", -6), ("band1.ratio", 10), ("band1.thresholdDb", -24),
            ("band1.keyBand", 1), ("band1.keyFrequencyHz", 85), ("band1.keyWidthOctaves", 0.8),
        ];
        float[] low = Sine(82.4, -12, 2).Plus(Sine(250, -20, 2));
        float[] high = Sine(330, -12, 2).Plus(Sine(250, -20, 2));
        Assert.Equal(-26, LevelDb(Through(Prepared(48_000, settings), low).AsSpan(48_000), 250), 0.2);
        Assert.Equal(-20, LevelDb(Through(Prepared(48_000, settings), high).AsSpan(48_000), 250), 0.1);
    }

    [Fact]
    public void AnotherStemMovesTheBandAndTheSoundItselfDoesNot()
    {
        (string, double)[] settings = [.. Bell1k, ("band1.keySignal", 1), ("band1.thresholdDb", -40), ("band1.rangeDb", -9), ("band1.ratio", 100)];
        float[] sound = Sine(1000, -6, 1.5);
        Assert.Equal(-6, LevelDb(Through(Prepared(48_000, settings), sound, new float[sound.Length]).AsSpan(48_000), 1000), 0.01);
        Assert.Equal(-15, LevelDb(Through(Prepared(48_000, settings), sound, Sine(1000, -12, 1.5)).AsSpan(48_000), 1000), 0.05);
    }

    // τ of the smooth decoupled detector: 63 % of the way in dB after the attack. The detector adds its 1.5 periods (1.5 ms)
    // and the control interval up to 1.3 ms.
    [Theory]
    [InlineData(50, 44_100)]
    [InlineData(50, 192_000)]
    [InlineData(200, 48_000)]
    public void AttackTakesItsTimeAtEveryRate(double attackMs, int sampleRate)
    {
        EqualiserProcessor equaliser = Prepared(
            sampleRate, [.. Bell1k, ("band1.attackMs", attackMs), ("band1.thresholdDb", -50), ("band1.rangeDb", -10), ("band1.ratio", 100), ("band1.q", 0.3)]);
        float[] output = Through(equaliser, Sine(1000, -10, 1.5, sampleRate));
        int at = (int)((attackMs + 2.5) * sampleRate / 1000);
        int half = sampleRate / 500;
        double reduction = -10 - LevelDb(output.AsSpan(at - half, 2 * half), 1000, sampleRate);
        Assert.InRange(reduction, 10 * (1 - Math.Exp(-1)) - 0.35, 10 * (1 - Math.Exp(-1)) + 0.35);
    }

    // Where the gain moves it moves on straight lines of 32 frames; a 5 ms attack of 24 dB is the steepest below. What is
    // outside the tone's own region stays 80 dB below it.
    [Fact]
    public void MovingGainHasNoZipper()
    {
        EqualiserProcessor equaliser = Prepared(
            48_000, [.. Bell1k, ("band1.attackMs", 20), ("band1.releaseMs", 50), ("band1.thresholdDb", -30), ("band1.rangeDb", -12), ("band1.ratio", 4)]);
        float[] sound = [.. Sine(1000, -12, 2).Select((x, n) => (float)(x * (0.55 + 0.45 * Math.Cos(2 * Math.PI * 3 * n / 48_000))))];
        float[] output = Through(equaliser, sound);
        foreach (double far in new[] { 100, 300, 4000, 7000, 12_000 })
        {
            Assert.InRange(LevelDb(output.AsSpan(24_000, 65_536), far), -250, -12 - 90);
        }
    }

    [Fact]
    public void DynamicBandInSilenceOfItsKeyLeavesEveryBit()
    {
        EqualiserProcessor equaliser = Prepared(48_000, [.. Bell1k, ("band1.thresholdDb", -10)]);
        float[] sound = TestSignals.WhiteNoise(20_000, 4, 0.05);
        float[] output = Through(equaliser, sound);
        for (int n = 0; n < sound.Length; n++)
        {
            Assert.Equal(sound[n], output[n], 1e-6f);
        }
    }

    [Fact]
    public void MetersShowWhatEachBandAddsAndTheCurveOfAll()
    {
        EqualiserProcessor equaliser = Prepared(
            48_000,
            [.. Bell1k, ("band1.thresholdDb", -60), ("band1.rangeDb", -8), ("band1.ratio", 100), ("band3.on", 1), ("band3.frequencyHz", 4000), ("band3.gainDb", 5)]);
        Through(equaliser, Sine(1000, -10, 1));
        Assert.Equal(-8, equaliser.GainReductionDb, 0.01);
        ReadOnlySpan<float> added = equaliser.LatestBandReductionDb();
        Assert.Equal(-8, added[0], 0.01);
        Assert.Equal(0, added[2]);
        ReadOnlySpan<float> frequencies = equaliser.ReductionFrequenciesHz;
        ReadOnlySpan<float> curve = equaliser.LatestReductionDb();
        FilterSettings bell = new(FilterShape.Bell, 1000, -8, 1, 2);
        for (int i = 0; i < curve.Length; i++)
        {
            Assert.Equal(AnaloguePrototype.GainDb(bell, frequencies[i]), curve[i], 0.02);
        }

        Through(equaliser, new float[3 * 48_000]);
        Assert.Equal(0, equaliser.GainReductionDb, 0.001);
        Assert.True(equaliser.LatestBandReductionDb()[0] > -0.001);
    }

    [Fact]
    public void SwitchingDynamicOffGoesBackWithoutAClick()
    {
        EqualiserProcessor equaliser = Prepared(
            48_000, ("band1.frequencyHz", 100), ("band1.dynamic", 1), ("band1.thresholdDb", -60), ("band1.rangeDb", -18), ("band1.ratio", 100), ("band1.attackMs", 20));
        float[] sound = Sine(100, -6, 1);
        float[] output = Through(equaliser, sound);
        Set(equaliser, "band1.dynamic", 0);
        float[] after = Through(equaliser, sound);
        double bound = Smoothness.BendOfCrossFade(2 * Math.PI * 100 / 48_000, 0.5, 0.5, 32);
        Assert.InRange(Smoothness.SharpestBend(((float[])[.. output, .. after]).AsSpan(24_000)), 0, bound);
        Assert.Equal(-6, LevelDb(after.AsSpan(24_000), 100), 0.01);
    }
}
