using LiveStems.App.Demo.Score;
using Xunit;

namespace LiveStems.Tests.App.Demo;

/// <summary>Each kind of fault measured against the bands or moments beside it.</summary>
internal static class Faults
{
    /// <summary>How far 1/24 of an octave stands above its neighbourhood, in dB.</summary>
    public static double Ring(StemSound drums, double hertz, SongForm form, string section)
    {
        (double start, double end) = (form.StartOf(section) + 0.5, form.EndOf(section) - 0.5);
        double half = hertz * (Math.Pow(2, 1.0 / 48) - 1);
        double at = drums.Density(hertz - half, hertz + half, start, end);
        double below = drums.Density(0.84 * hertz, 0.95 * hertz, start, end);
        double above = drums.Density(1.05 * hertz, 1.19 * hertz, start, end);
        return at - (below + above) / 2;
    }

    /// <summary>On the beat the 3–5 kHz of a bass jump up, stand above the bands beside them, and are gone 60 ms later.</summary>
    public static void AssertPickClicks(StemSound bass, SongForm form, string section)
    {
        const int Window = 1024;
        for (int beat = 0; beat < 8; beat += 2)
        {
            double at = form.SecondsAt(4 * form[section].FirstBar + beat);
            double click = bass.Density(3000, 5000, at - 0.005, at + 0.025, Window);
            double later = bass.Density(3000, 5000, at + 0.060, at + 0.110, Window);
            double below = bass.Density(1500, 2500, at - 0.005, at + 0.025, Window);
            double above = bass.Density(6500, 9000, at - 0.005, at + 0.025, Window);
            Assert.True(
                click > later + 15 && click > (below + above) / 2 + 3,
                $"beat {beat}: {click:0.0} dB, later {later:0.0}, below {below:0.0}, above {above:0.0}");
        }
    }

    /// <summary>Density of 2.5–4.5 kHz against the bands beside it, in dB.</summary>
    public static double Glare(StemSound guitars, SongForm form, string section)
    {
        (double start, double end) = (form.StartOf(section) + 0.3, form.EndOf(section) - 0.3);
        double beside = (guitars.Density(1000, 2000, start, end) + guitars.Density(5000, 6500, start, end)) / 2;
        return guitars.Density(2500, 4500, start, end) - beside;
    }

    /// <summary>More above 16.5 kHz than at 11–14 kHz, where music would have more.</summary>
    public static void AssertHiss(StemSound stem)
    {
        double hiss = stem.Density(17000, 19500, 10, 60);
        double below = stem.Density(11000, 14000, 10, 60);
        Assert.True(hiss > below + 6, $"{hiss:0.0} dB, below {below:0.0} dB");
    }

    public static void AssertNeedlessSub(StemSound stem)
    {
        double sub = stem.Density(16, 29, 10, 60, 32768);
        double above = stem.Density(48, 75, 10, 60, 32768);
        Assert.True(sub > above + 12, $"{sub:0.0} dB, above {above:0.0} dB");
    }

    public static void AssertRumble(StemSound voice)
    {
        double rumble = voice.Density(22, 42, 10, 60, 16384);
        double above = voice.Density(75, 120, 10, 60, 16384);
        Assert.True(rumble > above + 12, $"{rumble:0.0} dB, above {above:0.0} dB");
    }

    /// <summary>Density of 200–350 Hz of a voice against 700–1400 Hz, in dB.</summary>
    public static double Thickness(StemSound voice, SongForm form, string section)
    {
        (double start, double end) = (form.StartOf(section), form.EndOf(section));
        return voice.Density(200, 350, start, end, 8192) - voice.Density(700, 1400, start, end, 8192);
    }

    /// <summary>Just before a vowel that follows an s, 6–9 kHz stand far above the bands beside them and near the vowel's level.</summary>
    public static void AssertSibilant(StemSound voice, SongForm form, double beat, double secondsToVowel)
    {
        const int Window = 1024;
        double vowel = form.SecondsAt(beat) - secondsToVowel;
        double hiss = voice.Density(6000, 9000, vowel - 0.13, vowel - 0.04, Window);
        double below = voice.Density(2000, 3500, vowel - 0.13, vowel - 0.04, Window);
        double above = voice.Density(14000, 18000, vowel - 0.13, vowel - 0.04, Window);
        Assert.True(hiss > below + 6 && hiss > above + 6, $"{hiss:0.0} dB, below {below:0.0}, above {above:0.0}");
    }

    /// <summary>What is left of a bass in a rest against the note before it, in dB.</summary>
    public static double LeftOver(StemSound bass, SongForm form, double restBeat, double restBeats)
    {
        double rest = form.SecondsAt(restBeat);
        double end = form.SecondsAt(restBeat + restBeats);
        return bass.Rms(rest + 0.25 * (end - rest), end - 0.02) - bass.Rms(rest - 0.2, rest - 0.02);
    }

    /// <summary>
    /// First 20 ms of the strokes on two and four, 600 Hz to 2.5 kHz, against the bass drum over the section, in dB.
    /// </summary>
    public static double Impact(StemSound drums, SongForm form, string section)
    {
        double sum = 0;
        int count = 0;
        for (int beat = 1; beat < 16; beat += 2)
        {
            double at = form.SecondsAt(4 * form[section].FirstBar + beat);
            sum += drums.Density(600, 2500, at - 0.002, at + 0.020, 1024);
            count++;
        }

        return sum / count - drums.Density(45, 90, form.StartOf(section), form.EndOf(section), 8192);
    }
}
