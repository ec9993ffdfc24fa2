using LiveStems.Albums.Model;
using LiveStems.Analysis.Trouble;
using Xunit;

namespace LiveStems.Tests.Analysis.Trouble;

/// <summary>Resonances in brown noise with chords over it: material the thresholds were not chosen by.</summary>
public class PlantedRingTests
{
    private const int SampleRate = 44_100;
    private const double Seconds = 24;

    [Fact]
    public void SteadyResonanceIsFoundWhereItIs()
    {
        TroubleReport report = Search(Sound(ringHz: 2350, from: 0, to: Seconds));
        TroubleFinding finding = Nearest(report, 2350);
        Assert.Equal(Occurrence.Steady, finding.Occurrence);
        Assert.InRange(finding.SurplusDb, 5, 14);
        Assert.Equal("equaliser", finding.Correction.Processor);
    }

    [Fact]
    public void ResonanceOfAPassageIsFoundInItsTime()
    {
        TroubleFinding finding = Nearest(Search(Sound(ringHz: 830, from: 8, to: 15)), 830);
        double shared = finding.Ranges.Sum(range => Math.Max(0, Math.Min(range.EndSeconds, 15) - Math.Max(range.StartSeconds, 8)));
        double either = finding.Ranges.Sum(range => range.Seconds) + 7 - shared;
        Assert.True(shared / either >= 0.8, $"{shared / either}");
    }

    [Fact]
    public void PassageIsFoundThoughItsOctaveRingsAllTheTime()
    {
        TroubleReport report = Search(Belled(Sound(ringHz: 830, from: 8, to: 15), 1660, 0, Seconds));
        Assert.NotEqual(Occurrence.Steady, Nearest(report, 830).Occurrence);
        Assert.Equal(Occurrence.Steady, Nearest(report, 1660).Occurrence);
    }

    [Fact]
    public void ChordsOverNoiseAreNoResonance() =>
        Assert.DoesNotContain(Search(Sound(ringHz: null, 0, 0)).Findings, finding => finding.Kind is TroubleKind.Resonance or TroubleKind.RingingTone);

    [Fact]
    public void ShortSoundSaysWhatCannotBeJudged()
    {
        TroubleSearch search = new(SampleRate, new TroubleSettings(StemRole.Other));
        float[] second = Sound(null, 0, 0)[..SampleRate];
        search.Add(second, second);
        TroubleReport report = search.Finish();
        Assert.Contains("too short", Assert.Single(report.NotJudged));
    }

    [Fact]
    public void SilenceHasNoFindings()
    {
        TroubleReport report = Search(new float[5 * SampleRate]);
        Assert.Empty(report.Findings);
        Assert.Equal("nothing sounds", Assert.Single(report.NotJudged));
    }

    [Fact]
    public void RumbleBelowTheMusicIsFoundWithTheHeadroomItCosts()
    {
        float[] sound = Sound(null, 0, 0);
        for (int n = 0; n < sound.Length; n++)
        {
            sound[n] += 0.2f * MathF.Sin(2 * MathF.PI * 21 * n / SampleRate);
        }

        TroubleFinding rumble = Assert.Single(Search(sound).Findings, finding => finding.Kind == TroubleKind.Rumble);
        Assert.True(rumble.HeadroomDb > 0.5, $"{rumble.HeadroomDb}");
        Assert.Contains(rumble.Correction.Settings, setting => setting.Value == "high-pass");
    }

    [Fact]
    public void PinkNoiseHasNoRumbleThoughMostOfItLiesLow()
    {
        // Sum of first-order low-passes an octave apart: −3 dB an octave from below 8 Hz to 8 kHz within half a decibel.
        Random random = new(3);
        float[] sound = new float[12 * SampleRate];
        double[] states = new double[12];
        for (int n = 0; n < sound.Length; n++)
        {
            for (int stage = 0; stage < states.Length; stage++)
            {
                double pole = Math.Exp(-2 * Math.PI * 4 * Math.Pow(2, stage) / SampleRate);
                states[stage] = pole * states[stage] + Math.Sqrt(1 - pole * pole) * (random.NextDouble() - 0.5);
                sound[n] += (float)(0.05 * states[stage]);
            }
        }

        Assert.DoesNotContain(Search(sound).Findings, finding => finding.Kind == TroubleKind.Rumble);
    }

    [Fact]
    public void HeldNoteWithVibratoIsNoResonance()
    {
        float[] sound = new float[(int)(Seconds * SampleRate)];
        double phase = 0;
        Random random = new(8);
        for (int n = 0; n < sound.Length; n++)
        {
            double t = (double)n / SampleRate;
            double root = (t % 12 < 6 ? 220 : 247) * (1 + 0.006 * Math.Sin(2 * Math.PI * 5.5 * t));
            phase += 2 * Math.PI * root / SampleRate;
            for (int partial = 1; partial <= 20; partial++)
            {
                sound[n] += (float)(0.05 / partial * Math.Sin(partial * phase));
            }

            sound[n] += (float)(0.0002 * (random.NextDouble() - 0.5));
        }

        Assert.DoesNotContain(Search(sound).Findings, finding => finding.Kind == TroubleKind.Resonance);
    }

    [Fact]
    public void FootOnTheFloorIsFoundBesideAGuitar()
    {
        // A thump of 25 Hz every second; without it nothing is found down there.
        float[] sound = Sound(null, 0, 0);
        Assert.DoesNotContain(Search(sound, StemRole.Guitar).Findings, finding => finding.Kind == TroubleKind.Rumble);
        for (int n = 0; n < sound.Length; n++)
        {
            double since = n % SampleRate / (double)SampleRate;
            sound[n] += (float)(0.2 * Math.Exp(-since / 0.06) * Math.Sin(2 * Math.PI * 25 * since));
        }

        TroubleFinding foot = Assert.Single(Search(sound, StemRole.Guitar).Findings, finding => finding.Kind == TroubleKind.Rumble);
        Assert.Contains(foot.Correction.Settings, setting => setting.Value == "high-pass");
    }

    [Fact]
    public void BoomingBoxIsMudOfAGuitarOnly()
    {
        float[] sound = Belled(Sound(null, 0, 0), 113, 0, Seconds, 18);
        Assert.Contains(Search(sound, StemRole.Guitar).Findings, finding => finding.Kind == TroubleKind.Mud && finding.LowHz < 113 && finding.HighHz > 113);
        Assert.DoesNotContain(Search(sound, StemRole.Keys).Findings, finding => finding.Kind == TroubleKind.Mud);
    }

    [Fact]
    public void TrendRunsAlongThePeaksWhateverTheBandItselfHolds()
    {
        // Every third band 20 dB up, as partials stand: the trend lies there, also under a band 9 dB above them.
        double[] levels = [.. Enumerable.Range(0, 60).Select(band => band % 3 == 0 ? -40.0 : -60)];
        levels[30] = -31;
        Assert.Equal(-40, PeakTrend.At(levels, 30), 1e-9);
        Assert.Equal(-40, PeakTrend.At(levels, 31), 1e-9);
    }

    [Fact]
    public void HumIsFoundByItsFamily()
    {
        float[] sound = Sound(null, 0, 0);
        for (int n = 0; n < sound.Length; n++)
        {
            double phase = 2 * Math.PI * 60.0 * n / SampleRate;
            sound[n] += (float)(0.01 * (Math.Sin(phase) + Math.Sin(2 * phase) + Math.Sin(3 * phase) + Math.Sin(5 * phase)));
        }

        Assert.Equal(60, Assert.Single(Search(sound).Findings, finding => finding.Kind == TroubleKind.Hum).CentreHz);
    }

    private static TroubleFinding Nearest(TroubleReport report, double hz)
    {
        TroubleFinding? nearest = report.Findings.MinBy(finding => Math.Abs(Math.Log2(finding.CentreHz / hz)));
        Assert.NotNull(nearest);
        Assert.True(Math.Abs(Math.Log2(nearest.CentreHz / hz)) <= 1.0 / 12, $"{nearest.CentreHz}");
        return nearest;
    }

    private static TroubleReport Search(float[] sound, StemRole role = StemRole.Other)
    {
        TroubleSearch search = new(SampleRate, new TroubleSettings(role));
        for (int done = 0; done < sound.Length; done += 1000)
        {
            ReadOnlySpan<float> block = sound.AsSpan(done, Math.Min(1000, sound.Length - done));
            search.Add(block, block);
        }

        return search.Finish();
    }

    // Leaky brown noise, a chord of six partials a second, and a resonator (bell of 9 dB, Q 10) over both for a while.
    private static float[] Sound(double? ringHz, double from, double to)
    {
        Random random = new(11);
        float[] sound = new float[(int)(Seconds * SampleRate)];
        double brown = 0;
        for (int n = 0; n < sound.Length; n++)
        {
            brown = 0.97 * brown + 0.02 * (random.NextDouble() - 0.5);
            double t = (double)n / SampleRate;
            double root = 196 * Math.Pow(2, (int)t % 5 * 2 / 12.0);
            double chord = 0;
            for (int partial = 1; partial <= 6; partial++)
            {
                chord += 0.01 / partial * Math.Sin(2 * Math.PI * root * partial * t);
            }

            sound[n] = (float)(brown + chord * Math.Exp(-2 * (t - Math.Floor(t))));
        }

        return ringHz is { } hz ? Belled(sound, hz, from, to) : sound;
    }

    private static float[] Belled(float[] sound, double hz, double from, double to, double gainDb = 9)
    {
        double w = 2 * Math.PI * hz / SampleRate;
        double alpha = Math.Sin(w) / 20;
        double gain = Math.Pow(10, gainDb / 20) - 1;
        double s1 = 0, s2 = 0;
        float[] result = new float[sound.Length];
        for (int n = 0; n < sound.Length; n++)
        {
            double x = sound[n];
            double y = alpha / (1 + alpha) * x + s1;
            s1 = 2 * Math.Cos(w) / (1 + alpha) * y + s2;
            s2 = -alpha / (1 + alpha) * x - (1 - alpha) / (1 + alpha) * y;
            double t = (double)n / SampleRate;
            result[n] = (float)(x + (t >= from && t < to ? gain * y : 0));
        }

        return result;
    }
}
