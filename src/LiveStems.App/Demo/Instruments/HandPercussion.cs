using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Instruments;

/// <summary>Shaker, tambourine and congas.</summary>
internal static class HandPercussion
{
    private static readonly TunedDrum HighConga = new(262, 0.36, 0.05, 1500, 0.35);
    private static readonly TunedDrum LowConga = new(194, 0.42, 0.06, 1200, 0.35);
    private static readonly TunedDrum Slap = new(330, 0.10, 0.02, 2600, 1.3);

    /// <summary>Grains thrown forth and back: a soft rise, then the stop.</summary>
    public static void Shaker(Span<float> output, int sampleRate, double velocity, uint seed)
    {
        var random = new Noise(seed);
        double hertz = random.Between(5600, 6600);
        Strike.AddNoise(output, sampleRate, seed, Biquad.BandPass(hertz, 0.9, sampleRate), 0.5 * velocity, 28, 95);
        int stop = Math.Min(output.Length, (int)(0.024 * sampleRate));
        Strike.AddNoise(
            output[stop..], sampleRate, seed + 1, Biquad.BandPass(1.25 * hertz, 0.8, sampleRate), 0.7 * velocity * velocity, 2, 40);
    }

    public static void Tambourine(Span<float> output, int sampleRate, double velocity, uint seed)
    {
        var random = new Noise(seed);
        Span<Mode> jingles = stackalloc Mode[20];
        for (int i = 0; i < jingles.Length; i++)
        {
            double hertz = 4200 * Math.Pow(4, random.Between(0, 1));
            double amplitude = 0.1 * velocity * Math.Sqrt(4200 / hertz);
            jingles[i] = new Mode(hertz, amplitude, random.Between(0.08, 0.3), random.Between(0, 1));
        }

        ModalBank.AddTo(output, jingles, sampleRate);
        Strike.AddNoise(output, sampleRate, seed, Biquad.BandPass(8200, 0.7, sampleRate), 0.9 * velocity, 1.5, 110);
        Strike.AddNoise(output, sampleRate, seed + 1, Biquad.BandPass(900, 0.8, sampleRate), 0.25 * velocity, 0.1, 30);
    }

    /// <summary>'h' and 'l' open high and low, 's' slap, 'm' and any other a muted touch.</summary>
    public static void Conga(Span<float> output, int sampleRate, double velocity, char mark, uint seed)
    {
        (TunedDrum drum, double level) = mark switch
        {
            'h' => (HighConga, 0.8),
            'l' => (LowConga, 0.85),
            's' => (Slap, 0.75),
            _ => (HighConga with { DecaySeconds = 0.06, Stroke = 0.6 }, 0.4),
        };
        drum.Hit(output, sampleRate, level * velocity, seed);
    }

    /// <summary>Plays a pattern over a section onto a track.</summary>
    /// <param name="track">The track from its start.</param>
    /// <param name="sampleRate">Sample rate in Hz.</param>
    /// <param name="groove">The player.</param>
    /// <param name="sectionName">Where.</param>
    /// <param name="seed">The player's irregularities.</param>
    /// <param name="hit">What a mark does: place, velocity, mark, seed.</param>
    /// <param name="patterns">Bars in turn.</param>
    public static void Play(
        float[] track, int sampleRate, Groove groove, string sectionName, uint seed, PercussionHit hit, params string[] patterns)
    {
        Section section = groove.Form[sectionName];
        double force = 0.6 + 0.4 * section.Intensity;
        for (int bar = 0; bar < section.Bars; bar++)
        {
            double barBeat = (section.FirstBar + bar) * SongForm.BeatsPerBar;
            foreach ((double beat, char mark) in StepPattern.Hits(patterns[bar % patterns.Length], barBeat))
            {
                uint hitSeed = Noise.Mix(seed, (long)Math.Round(beat * 96));
                double velocity = force * StepPattern.Velocity(mark) * (1 + 0.07 * new Noise(hitSeed).Bell());
                hit(Strike.From(track, groove.SecondsAt(beat), sampleRate), sampleRate, velocity, mark, hitSeed);
            }
        }
    }
}

/// <summary>One stroke onto the rest of a track.</summary>
internal delegate void PercussionHit(Span<float> output, int sampleRate, double velocity, char mark, uint seed);
