using LiveStems.Dsp;
using LiveStems.Processing.Processors.Expander;
using LiveStems.Tests.Dsp.Dynamics;
using Xunit;

namespace LiveStems.Tests.Processing.Expander;

public class ExpanderTests
{
    private const int SampleRate = 48_000;
    private const float Probe = 0.25f;

    // REFERENCES 5.1, worked values of the downward expander (T −50, R 2, W 10), four decimals; the level detector adds
    // 0.00005 dB.
    [Theory]
    [InlineData(-45, 0)]
    [InlineData(-48, -0.45)]
    [InlineData(-50, -1.25)]
    [InlineData(-52, -2.45)]
    [InlineData(-55, -5)]
    [InlineData(-60, -10)]
    public void SteadyLevelsFollowTheStaticCurve(double levelDb, double gainDb)
    {
        ExpanderProcessor processor = ProcessorRun.Prepared<ExpanderProcessor>(
            SampleRate, ("thresholdDb", -50), ("ratio", 2), ("kneeDb", 10), ("rangeDb", -80), ("hysteresisDb", 0), ("releaseMs", 5), ("lookAhead", 0));
        float level = (float)Decibels.ToAmplitude(levelDb);
        float[] sound = [.. Enumerable.Repeat(level, SampleRate)];
        (float[] output, _) = ProcessorRun.Through(processor, sound, sound);
        Assert.Equal(gainDb, Decibels.FromAmplitude(output[^1] / (double)level), 0.0005);
        Assert.Equal(gainDb, processor.GainReductionDb, 0.0005);
    }

    // Open and closed curve at a level between the thresholds: 1.25 dB and 10 dB by the formula of REFERENCES 5.1 with the
    // threshold 10 dB lower or not.
    [Fact]
    public void BetweenBothThresholdsThePastDecides()
    {
        float between = (float)Decibels.ToAmplitude(-60);
        float loud = (float)Decibels.ToAmplitude(-20);
        float[] fromBelow = [.. Enumerable.Repeat(between, SampleRate)];
        float[] fromAbove = [.. Enumerable.Repeat(loud, SampleRate), .. fromBelow];
        Assert.Equal(-10, FinalGainDb(fromBelow), 0.0005);
        Assert.Equal(-1.25, FinalGainDb(fromAbove), 0.0005);
    }

    // 7.5 release constants after closing, 20 dB · e^-7.5 = 0.011 dB are left; at the hit's crest 20 dB · e^-10 = 0.001 dB.
    [Fact]
    public void RingingBetweenHitsFallsByTheRangeAndHitsStayWhole()
    {
        const int Spacing = 36_000;
        float[] sound = Drums(4 * Spacing, Spacing);
        ExpanderProcessor processor = ProcessorRun.Prepared<ExpanderProcessor>(
            SampleRate, ("thresholdDb", -26), ("ratio", 100), ("rangeDb", -20), ("attackMs", 0.5), ("holdMs", 30), ("releaseMs", 60), ("lookAhead", 3));
        (float[] output, _) = ProcessorRun.Through(processor, sound, sound);
        int latency = processor.LatencyFrames;
        Assert.Equal(240, latency);
        for (int hit = 1; hit < 4; hit++)
        {
            int at = hit * Spacing;
            Assert.Equal(PeakDb(sound, at, 4800), PeakDb(output, at + latency, 4800), 0.01);
            Assert.Equal(RmsDb(sound, at - 6000, 4800) - 20, RmsDb(output, at - 6000 + latency, 4800), 0.05);
        }
    }

    [Fact]
    public void LookAheadIsOpenWhenTheHitArrivesAndNoStepOfTheGainClicks()
    {
        float[] key = new float[SampleRate];
        Array.Fill(key, 0.5f, 24_000, 4000);
        float[] probe = [.. Enumerable.Repeat(Probe, SampleRate)];
        ExpanderProcessor processor = ProcessorRun.Prepared<ExpanderProcessor>(
            SampleRate, ("rangeDb", -40), ("ratio", 100), ("attackMs", 0.5), ("lookAhead", 3));
        (float[] output, _) = ProcessorRun.Through(processor, probe, probe, key);
        double[] gain = [.. output.Skip(240).Select(x => Decibels.FromAmplitude(x / (double)Probe))];
        Assert.Equal(-40, gain[23_000], 0.001);
        Assert.Equal(0, gain[24_000 - 1], 40 * Math.Exp(-10) + 0.001);

        // A one-pole step of 40 dB moves by at most 40 (1 − α) in one frame.
        double steepest = 40 * (1 - Math.Exp(-1 / (0.0005 * SampleRate)));
        Assert.True(gain.Zip(gain.Skip(1), (a, b) => Math.Abs(b - a)).Max() <= steepest + 0.001);
    }

    [Fact]
    public void HysteresisAndHoldStopChatter()
    {
        Assert.True(Openings(hysteresisDb: 0, holdMs: 0) >= 12);
        Assert.Equal(1, Openings(hysteresisDb: 6, holdMs: 0));
        Assert.Equal(1, Openings(hysteresisDb: 0, holdMs: 300));
    }

    [Theory]
    [InlineData("keyHighPass", "keyHighPassHz", 2000, 60)]
    [InlineData("keyLowPass", "keyLowPassHz", 200, 8000)]
    public void KeyFiltersKeepTonesFromOpening(string filter, string corner, double cornerHz, double toneHz)
    {
        float[] tone = TestSignals.Sine(SampleRate, toneHz, SampleRate, 0.1);
        (string, double)[] settings = [("thresholdDb", -40), ("ratio", 100), ("rangeDb", -30), (corner, cornerHz)];
        Assert.Equal(0, FinalReductionDb(tone, settings), 0.001);
        Assert.Equal(-30, FinalReductionDb(tone, [.. settings, (filter, 1)]), 0.01);
    }

    [Fact]
    public void LinkOpensTheQuietSideWithTheLoudOne()
    {
        float[] loud = TestSignals.Sine(SampleRate, 1000, SampleRate, 0.5);
        float[] quiet = TestSignals.Sine(SampleRate, 1000, SampleRate, 0.001);
        ExpanderProcessor linked = ProcessorRun.Prepared<ExpanderProcessor>(SampleRate, ("lookAhead", 0), ("linkPercent", 100));
        ExpanderProcessor single = ProcessorRun.Prepared<ExpanderProcessor>(SampleRate, ("lookAhead", 0), ("linkPercent", 0));
        Assert.Equal(RmsDb(quiet, 40_000, 4800), RmsDb(ProcessorRun.Through(linked, loud, quiet).Right, 40_000, 4800), 0.001);
        Assert.Equal(RmsDb(quiet, 40_000, 4800) - 12, RmsDb(ProcessorRun.Through(single, loud, quiet).Right, 40_000, 4800), 0.001);
    }

    private static double FinalGainDb(float[] sound)
    {
        ExpanderProcessor processor = ProcessorRun.Prepared<ExpanderProcessor>(
            SampleRate, ("thresholdDb", -50), ("ratio", 2), ("kneeDb", 10), ("rangeDb", -80), ("hysteresisDb", 10), ("releaseMs", 5), ("lookAhead", 0), ("holdMs", 0));
        return Decibels.FromAmplitude(ProcessorRun.Through(processor, sound, sound).Left[^1] / (double)sound[^1]);
    }

    private static double FinalReductionDb(float[] sound, (string, double)[] settings)
    {
        ExpanderProcessor processor = ProcessorRun.Prepared<ExpanderProcessor>(SampleRate, settings);
        ProcessorRun.Through(processor, sound, sound);
        return processor.GainReductionDb;
    }

    // A tone that wobbles by 1.5 dB about the threshold seven times a second, for two seconds.
    private static int Openings(double hysteresisDb, double holdMs)
    {
        float[] key = TestSignals.Sine(2 * SampleRate, 1000, SampleRate, Decibels.ToAmplitude(-30));
        for (int n = 0; n < key.Length; n++)
        {
            key[n] *= (float)Decibels.ToAmplitude(1.5 * Math.Sin(2 * Math.PI * 7 * n / SampleRate));
        }

        float[] probe = [.. Enumerable.Repeat(Probe, key.Length)];
        ExpanderProcessor processor = ProcessorRun.Prepared<ExpanderProcessor>(
            SampleRate, ("thresholdDb", -30), ("ratio", 100), ("kneeDb", 0), ("rangeDb", -40), ("attackMs", 0.5), ("releaseMs", 10), ("hysteresisDb", hysteresisDb), ("holdMs", holdMs));
        (float[] output, _) = ProcessorRun.Through(processor, probe, probe, key);
        int openings = 0;
        for (int n = 1; n < output.Length; n++)
        {
            openings += output[n - 1] < Probe / 2 && output[n] >= Probe / 2 ? 1 : 0;
        }

        return openings;
    }

    private static float[] Drums(int frames, int spacing)
    {
        float[] sound = TestSignals.WhiteNoise(frames, 5, 0.01);
        for (int n = 0; n < frames; n++)
        {
            double time = n % spacing / (double)SampleRate;
            sound[n] += (float)(0.5 * Math.Exp(-time / 0.04) * Math.Cos(2 * Math.PI * 80 * time));
        }

        return sound;
    }

    private static double PeakDb(float[] sound, int start, int count) =>
        Decibels.FromAmplitude(sound.AsSpan(start, count).ToArray().Max(Math.Abs));

    private static double RmsDb(float[] sound, int start, int count) =>
        Decibels.FromPower(sound.AsSpan(start, count).ToArray().Average(x => (double)x * x));
}
