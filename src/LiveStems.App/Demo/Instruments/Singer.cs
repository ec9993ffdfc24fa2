using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Instruments;

/// <summary>Sings a line: folds and breath through the tract, hiss and bursts past it.</summary>
internal static class Singer
{
    private const int Interval = VoiceControls.Interval;

    // Formants raise a voice by up to 17 dB; this puts a loud note near −10 dBFS.
    private const double Level = 0.12;

    /// <param name="notes">The line in order of time.</param>
    /// <param name="groove">When the singer places beats.</param>
    /// <param name="profile">Who sings.</param>
    /// <param name="force">How hard at a moment in seconds, 0 to 1.</param>
    /// <param name="frames">Length of the song.</param>
    /// <param name="sampleRate">Sample rate in Hz.</param>
    public static float[] Sing(
        IReadOnlyList<SungNote> notes,
        Groove groove,
        SingerProfile profile,
        Func<double, double> force,
        int frames,
        int sampleRate)
    {
        List<SoundSpan> spans = VoiceTimeline.Lay(notes, groove);
        var controls = new VoiceControls(spans, profile, force, frames, sampleRate);
        return Render(controls, profile, frames, sampleRate);
    }

    private static float[] Render(VoiceControls controls, SingerProfile profile, int frames, int sampleRate)
    {
        float[] track = new float[frames];
        var tract = new VocalTract(sampleRate, profile.TractScale);
        var noise = new Noise(profile.Seed + 1);
        Biquad hiss = default;

        // Voice has little above 6 kHz however hard it is sung; what is there comes from breath and consonants.
        Biquad lips = Biquad.LowPass(6500, 0.6, sampleRate);
        Span<double> block = stackalloc double[Interval];
        double phase = 0;
        double lastHertz = Pitch.Frequency(controls.Key[0]);
        int quiet = int.MaxValue / 2;
        for (int step = 0; step + 1 < controls.Steps; step++)
        {
            int start = step * Interval;
            int count = Math.Min(Interval, frames - start);
            double hertz = Pitch.Frequency(controls.Key[step + 1]);
            bool silent = Sound(controls, step) + Sound(controls, step + 1) < 1e-4;
            quiet = silent ? quiet + 1 : 0;
            if (count <= 0 || quiet > 24)
            {
                if (quiet == 25)
                {
                    tract.Reset();
                }

                lastHertz = hertz;
                continue;
            }

            double f1 = Math.Max(controls.F1[step], 1.03 * hertz);
            tract.Shape(f1, Math.Max(controls.F2[step], 1.4 * f1), controls.F3[step], 60 * (1 - controls.Voicing[step]));
            phase = Glottis(block[..count], controls, step, profile, lastHertz, hertz, phase, sampleRate, ref noise);
            tract.Process(block[..count]);
            for (int i = 0; i < count; i++)
            {
                block[i] = lips.Next(block[i]);
            }

            if (controls.NoiseLevel[step] + controls.NoiseLevel[step + 1] > 0)
            {
                hiss.Retune(Biquad.BandPass(controls.NoiseHertz[step], controls.NoiseQ[step], sampleRate));
                AddHiss(block[..count], controls, step, ref hiss, ref noise);
            }

            for (int i = 0; i < count; i++)
            {
                track[start + i] = (float)(Level * block[i]);
            }

            lastHertz = hertz;
        }

        return track;
    }

    private static double Sound(VoiceControls controls, int step) =>
        controls.Voicing[step] + controls.Breathing[step] + controls.NoiseLevel[step];

    private static double Glottis(
        Span<double> block,
        VoiceControls controls,
        int step,
        SingerProfile profile,
        double fromHertz,
        double toHertz,
        double phase,
        int sampleRate,
        ref Noise noise)
    {
        float[] soft = GlottalWaves.Soft.For(1.06 * toHertz, sampleRate);
        float[] pressed = GlottalWaves.Pressed.For(1.06 * toHertz, sampleRate);
        float effort = (float)controls.Effort[step];
        double advance = fromHertz / sampleRate;
        double advanceStep = (toHertz - fromHertz) / sampleRate / Interval;
        double voice = controls.Voicing[step];
        double voiceStep = (controls.Voicing[step + 1] - voice) / Interval;
        double breath = controls.Breathing[step];
        double breathStep = (controls.Breathing[step + 1] - breath) / Interval;
        float lastTurbulence = 0;
        double shimmer = 1 + 0.008 * noise.Next();
        double airiness = 0.30 * profile.Breath * (1.4 - effort);
        for (int i = 0; i < block.Length; i++)
        {
            float gentle = WaveTable.At(soft, phase);
            float firm = WaveTable.At(pressed, phase);
            double open = phase < 0.55 ? 1 : 0.25;
            double wave = (gentle + effort * (firm - gentle)) * shimmer;
            // Turbulence radiates with a rise of 6 dB an octave.
            float turbulence = noise.Next();
            double air = turbulence - 0.93 * lastTurbulence;
            lastTurbulence = turbulence;
            block[i] = voice * (wave + airiness * open * air) + 1.6 * breath * air;
            voice += voiceStep;
            breath += breathStep;
            advance += advanceStep;
            phase += advance;
            phase -= phase >= 1 ? 1 : 0;
        }

        return phase;
    }

    private static void AddHiss(Span<double> block, VoiceControls controls, int step, ref Biquad hiss, ref Noise noise)
    {
        double level = controls.NoiseLevel[step];
        double levelStep = (controls.NoiseLevel[step + 1] - level) / Interval;
        for (int i = 0; i < block.Length; i++)
        {
            block[i] += level * hiss.Next(noise.Next());
            level += levelStep;
        }
    }
}
