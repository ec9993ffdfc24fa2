using LiveStems.Dsp;
using LiveStems.Processing.Processors.DeEsser;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Nets;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Processing.DeEsser;

public class SentenceTests
{
    private const int SampleRate = 48_000;
    private const int Syllables = 9;

    // A sibilant as strong as the vowels is sharp.
    private static readonly Sentence Spoken = new(SampleRate, Syllables, 1);

    [Theory]
    [InlineData(0, -12)]
    [InlineData(1, -12)]
    [InlineData(0, -30)]
    public void QuieterSentenceIsTreatedAlike(int mode, double levelDb)
    {
        float[] loud = Spoken.Sound;
        float[] quiet = [.. loud.Select(sample => sample * (float)Decibels.ToAmplitude(levelDb))];
        float[] fromLoud = Through(loud, ("mode", mode));
        float[] fromQuiet = Through(quiet, ("mode", mode));
        foreach (Range sibilant in Spoken.Sibilants)
        {
            double cut = ChangeDb(loud, fromLoud, sibilant);
            Assert.InRange(cut, -6.1, -3);
            Assert.InRange(ChangeDb(quiet, fromQuiet, sibilant), cut - 0.5, cut + 0.5);
        }
    }

    [Fact]
    public void VowelsStayFromEndToEndInSplitBandMode()
    {
        float[] output = Through(Spoken.Sound, ("rangeDb", 12));
        foreach (Range vowel in Spoken.Vowels)
        {

            // Above 0 only what adding up thousands of squares may round: 1e-9 dB.
            Assert.InRange(ChangeDb(Spoken.Sound, output, vowel), -0.2, 1e-9);
        }
    }

    // A gain over the whole band lets go into the vowel that follows: six times the release of 20 ms leave 6 · e⁻⁶, 0.015 dB.
    [Fact]
    public void VowelsStayInWideModeOnceTheReleaseIsOver()
    {
        float[] output = Through(Spoken.Sound, ("mode", 1));
        foreach (Range vowel in Spoken.Vowels)
        {
            Range released = (vowel.Start.Value + 6 * SampleRate / 50)..vowel.End;
            Assert.InRange(ChangeDb(Spoken.Sound, output, released), -0.05, 0);
        }
    }

    // The second line comes 12 dB down after the first: the level it is compared with follows.
    [Fact]
    public void LineThatDropsInLevelIsSoonTreatedAlike()
    {
        float[] first = Spoken.Sound;
        float[] second = [.. first.Select(sample => sample * 0.25f)];
        float[] sound = [.. first, .. second];
        float[] output = Through(sound, ("rangeDb", 24));
        Range last = Spoken.Sibilants[^1];
        Range lastOfSecond = (first.Length + last.Start.Value)..(first.Length + last.End.Value);
        double cut = ChangeDb(sound, output, last);
        Assert.InRange(ChangeDb(sound, output, lastOfSecond), cut - 0.5, cut + 0.5);
    }

    [Fact]
    public void VoiceWithoutSibilantsComesOutAsItWentIn()
    {
        float[] sound = new Sentence(SampleRate, Syllables, 0).Sound;
        Assert.Equal(sound, Through(sound));
    }

    [Fact]
    public void MildSibilantsAreLeftAlone()
    {
        Sentence mild = new(SampleRate, Syllables, 0.12);
        float[] output = Through(mild.Sound);
        foreach (Range sibilant in mild.Sibilants)
        {
            Assert.InRange(ChangeDb(mild.Sound, output, sibilant), -0.2, 0);
        }
    }

    [Theory]
    [InlineData(3)]
    [InlineData(10)]
    public void RangeIsTheDeepestCut(double rangeDb)
    {
        float[] sound = Spoken.Sound;
        DeEsserProcessor processor = ProcessorRun.Prepared<DeEsserProcessor>(SampleRate, ("rangeDb", rangeDb), ("thresholdDb", -40));
        float deepest = 0;
        for (int start = 0; start + 512 <= sound.Length; start += 512)
        {
            ProcessorRun.Through(processor, sound[start..(start + 512)], sound[start..(start + 512)]);
            deepest = Math.Min(deepest, processor.GainReductionDb);
        }

        Assert.InRange(deepest, -rangeDb - 1e-4, -rangeDb + 0.1);
    }

    [Theory]
    [InlineData(44_100)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void SibilantsAreTakenDownAlikeAtEveryRate(int sampleRate)
    {
        Sentence other = new(sampleRate, 3, 1);
        float[] here = Through(Spoken.Sound);
        float[] there = Through(other.Sound, sampleRate);

        // The noise is another realisation of a slightly different colour, which moves a cut of 5 dB by a few tenths.
        double expected = Enumerable.Range(0, 3).Average(i => ChangeDb(Spoken.Sound, here, Spoken.Sibilants[i]));
        double actual = Enumerable.Range(0, 3).Average(i => ChangeDb(other.Sound, there, other.Sibilants[i]));
        Assert.InRange(actual, expected - 0.5, expected + 0.5);
    }

    private static double ChangeDb(float[] before, float[] after, Range stretch) =>
        Decibels.FromPower(Sentence.Power(after, stretch) / Sentence.Power(before, stretch));

    private static float[] Through(float[] sound, params (string, double)[] settings) => Through(sound, SampleRate, settings);

    private static float[] Through(float[] sound, int sampleRate, params (string, double)[] settings)
    {
        DeEsserProcessor processor = ProcessorRun.Prepared<DeEsserProcessor>(sampleRate, settings);
        float[] padded = [.. sound, .. new float[processor.LatencyFrames]];
        return ProcessorRun.Through(processor, padded, padded).Left[processor.LatencyFrames..];
    }
}
