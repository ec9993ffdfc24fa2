using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Conformance.Loudness;

/// <summary>
/// EBU Tech 3341 (V4, November 2023) Table 1, minimum requirements, signals 1 to 6 and 9 to 14, made here from their
/// descriptions; tolerance ±0.1 LU from the same table. The standard gives them at 48 kHz; the other rates must agree.
/// </summary>
public class Tech3341LoudnessTests
{
    private const double Tolerance = 0.1;

    public static TheoryData<int> SampleRates => [44_100, 48_000, 96_000, 192_000];

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case1SteadyToneReadsItsLevelOnAllThreeScales(int sampleRate) =>
        AssertSteady(new ToneProgramme(sampleRate).Tone(-23, 20), -23);

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case2QuieterSteadyToneReadsItsLevelOnAllThreeScales(int sampleRate) =>
        AssertSteady(new ToneProgramme(sampleRate).Tone(-33, 20), -33);

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case3RelativeGateIgnoresTheQuietEnds(int sampleRate) =>
        AssertIntegrated(new ToneProgramme(sampleRate).Tone(-36, 10).Tone(-23, 60).Tone(-36, 10));

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case4AbsoluteGateIgnoresWhatIsNearlySilent(int sampleRate) =>
        AssertIntegrated(new ToneProgramme(sampleRate).Tone(-72, 10).Tone(-36, 10).Tone(-23, 60).Tone(-36, 10).Tone(-72, 10));

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case5EverythingAboveTheGateCounts(int sampleRate) =>
        AssertIntegrated(new ToneProgramme(sampleRate).Tone(-26, 20).Tone(-20, 20.1).Tone(-26, 20));

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case6SurroundChannelsWeighMore(int sampleRate)
    {
        // Left −28, right −28; centre −24; left surround −30, right surround −30; weights of BS.1770-5 Table 3.
        float[] front = new ToneProgramme(sampleRate).Tone(-28, 20).Samples;
        float[] centre = new ToneProgramme(sampleRate).Tone(-24, 20).Samples;
        float[] surround = new ToneProgramme(sampleRate).Tone(-30, 20).Samples;
        KWeighting weighting = new(sampleRate);
        KWeightedPair fronts = new(weighting, 1, 1);
        KWeightedPair centreAlone = new(weighting, 1, 0);
        KWeightedPair surrounds = new(weighting, 1.41, 1.41);
        StepClock clock = new(sampleRate);
        LoudnessReadings readings = new(clock, isForAudioThread: false);

        for (int start = 0; start < front.Length;)
        {
            int frames = Math.Min(clock.FramesLeft, front.Length - start);
            fronts.Add(front.AsSpan(start, frames), front.AsSpan(start, frames));
            centreAlone.Add(centre.AsSpan(start, frames), centre.AsSpan(start, frames));
            surrounds.Add(surround.AsSpan(start, frames), surround.AsSpan(start, frames));
            if (clock.Advance(frames))
            {
                readings.AddStep(fronts.TakeEnergy() + centreAlone.TakeEnergy() + surrounds.TakeEnergy());
            }

            start += frames;
        }

        Assert.Equal(-23, readings.IntegratedLufs, Tolerance);
    }

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case9ShortTermStandsStillWhenItsWindowHoldsWholePeriods(int sampleRate)
    {
        ToneProgramme programme = new(sampleRate);
        for (int i = 0; i < 5; i++)
        {
            programme.Tone(-20, 1.34).Tone(-30, 1.66);
        }

        AssertConstantFrom(3, programme, meter => meter.ShortTermLufs);
    }

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case10FileMetersFindAShortTermMaximumWhereverItFalls(int sampleRate)
    {
        for (int i = 0; i < 20; i++)
        {
            LoudnessMeter meter = Measure(new ToneProgramme(sampleRate).Silence(i * 0.15).Tone(-23, 3).Silence(1));
            Assert.Equal(-23, meter.MaximumShortTermLufs, Tolerance);
        }
    }

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case11LiveMetersFindEveryNewShortTermMaximum(int sampleRate)
    {
        LoudnessMeter meter = new(sampleRate);
        for (int i = 0; i < 20; i++)
        {
            Add(meter, new ToneProgramme(sampleRate).Silence(i * 0.15).Tone(-38 + i, 3).Silence(3 - i * 0.15));
            Assert.Equal(-38 + i, meter.MaximumShortTermLufs, Tolerance);
        }
    }

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case12MomentaryStandsStillWhenItsWindowHoldsWholePeriods(int sampleRate)
    {
        ToneProgramme programme = new(sampleRate);
        for (int i = 0; i < 25; i++)
        {
            programme.Tone(-20, 0.18).Tone(-30, 0.22);
        }

        AssertConstantFrom(1, programme, meter => meter.MomentaryLufs);
    }

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case13FileMetersFindAMomentaryMaximumWhereverItFalls(int sampleRate)
    {
        for (int i = 0; i < 20; i++)
        {
            LoudnessMeter meter = Measure(new ToneProgramme(sampleRate).Silence(i * 0.02).Tone(-23, 0.4).Silence(1));
            Assert.Equal(-23, meter.MaximumMomentaryLufs, Tolerance);
        }
    }

    [Theory]
    [MemberData(nameof(SampleRates))]
    public void Case14LiveMetersFindEveryNewMomentaryMaximum(int sampleRate)
    {
        LoudnessMeter meter = new(sampleRate);
        for (int i = 0; i < 20; i++)
        {
            Add(meter, new ToneProgramme(sampleRate).Silence(i * 0.02).Tone(-38 + i, 0.4).Silence(0.4 - i * 0.02));
            Assert.Equal(-38 + i, meter.MaximumMomentaryLufs, Tolerance);
        }
    }

    private static void AssertSteady(ToneProgramme programme, double expected)
    {
        LoudnessMeter meter = Measure(programme);
        Assert.Equal(expected, meter.MomentaryLufs, Tolerance);
        Assert.Equal(expected, meter.ShortTermLufs, Tolerance);
        Assert.Equal(expected, meter.IntegratedLufs, Tolerance);
    }

    private static void AssertIntegrated(ToneProgramme programme) =>
        Assert.Equal(-23, Measure(programme).IntegratedLufs, Tolerance);

    private static void AssertConstantFrom(double seconds, ToneProgramme programme, Func<LoudnessMeter, double> reading)
    {
        float[] samples = programme.Samples;
        LoudnessMeter meter = new(programme.SampleRate);
        int block = programme.SampleRate / 100;
        for (int start = 0; start + block <= samples.Length; start += block)
        {
            meter.Add(samples.AsSpan(start, block), samples.AsSpan(start, block));
            if (start + block >= seconds * programme.SampleRate)
            {
                Assert.Equal(-23, reading(meter), Tolerance);
            }
        }
    }

    private static LoudnessMeter Measure(ToneProgramme programme)
    {
        LoudnessMeter meter = new(programme.SampleRate);
        Add(meter, programme);
        return meter;
    }

    private static void Add(LoudnessMeter meter, ToneProgramme programme)
    {
        float[] samples = programme.Samples;
        meter.Add(samples, samples);
    }
}
