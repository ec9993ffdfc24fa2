using LiveStems.App.Demo.Mixing;
using LiveStems.Dsp;

namespace LiveStems.App.Demo.Instruments;

/// <summary>What the voice does at every control step, as curves over the song.</summary>
internal sealed class VoiceControls
{
    public const int Interval = 64;
    private readonly double stepsPerSecond;

    public VoiceControls(IReadOnlyList<SoundSpan> spans, SingerProfile profile, Func<double, double> force, int frames, int sampleRate)
    {
        Steps = frames / Interval + 2;
        stepsPerSecond = (double)sampleRate / Interval;
        F1 = Filled(500);
        F2 = Filled(1500);
        F3 = Filled(2600);
        Voicing = Filled(0);
        Breathing = Filled(0);
        NoiseLevel = Filled(0);
        NoiseHertz = Filled(5000);
        NoiseQ = Filled(1);
        Effort = Filled(profile.Effort);
        Draw(spans, profile, force);
        foreach (double[] formant in new[] { F1, F2, F3 })
        {
            ControlCurves.Smooth(formant, 0.016 * stepsPerSecond);
        }

        ControlCurves.Smooth(Voicing, 0.009 * stepsPerSecond);
        ControlCurves.Smooth(Breathing, 0.010 * stepsPerSecond);
        ControlCurves.Smooth(Effort, 0.030 * stepsPerSecond);
        Key = VoicePitch.Draw(spans, profile, Steps, stepsPerSecond);
    }

    public int Steps { get; }

    public double[] F1 { get; }

    public double[] F2 { get; }

    public double[] F3 { get; }

    /// <summary>Amplitude of the voice.</summary>
    public double[] Voicing { get; }

    /// <summary>Amplitude of breath through the mouth.</summary>
    public double[] Breathing { get; }

    /// <summary>Amplitude of noise made in front of the mouth.</summary>
    public double[] NoiseLevel { get; }

    public double[] NoiseHertz { get; }

    public double[] NoiseQ { get; }

    public double[] Effort { get; }

    /// <summary>Pitch as a key number, with glides, vibrato and unrest.</summary>
    public double[] Key { get; }

    private void Draw(IReadOnlyList<SoundSpan> spans, SingerProfile profile, Func<double, double> force)
    {
        for (int i = 0; i < spans.Count; i++)
        {
            SoundSpan span = spans[i];
            int first = Step(span.Start);
            int end = Step(i + 1 < spans.Count ? Math.Max(span.End, spans[i + 1].Start) : span.End + 0.3);
            Sound shape = span.Sound.F1 > 0 ? span.Sound : NextVowel(spans, i);
            F1.AsSpan(first..end).Fill(shape.F1 * profile.TractScale);
            F2.AsSpan(first..end).Fill(shape.F2 * profile.TractScale);
            F3.AsSpan(first..end).Fill(shape.F3 * profile.TractScale);
            double push = force(span.Start);
            Effort.AsSpan(first..end).Fill(Math.Clamp(profile.Effort + 0.5 * (push - 0.6), 0, 1));
            double swell = Math.Min(1, 0.82 + 0.2 * (span.End - span.NoteStart));
            Voicing.AsSpan(first..Step(span.End)).Fill(span.Sound.Voicing * push * swell);
            if (span.Sound.Kind == SoundKind.Plosive)
            {
                DrawBurst(span, profile, push);
            }
            else if (span.Sound.Kind == SoundKind.Fricative)
            {
                DrawFriction(span, profile, push);
            }

            if (span.BeginsPhrase && (i == 0 || !spans[i - 1].BeginsPhrase || spans[i - 1].NoteStart != span.NoteStart))
            {
                DrawInhaling(span.Start - 0.06, profile);
            }
        }
    }

    private void DrawFriction(in SoundSpan span, SingerProfile profile, double push)
    {
        if (span.Sound.NoiseHertz == 0)
        {
            Breathing.AsSpan(Step(span.Start)..Step(span.End)).Fill(span.Sound.NoiseLevel * push);
            return;
        }

        double level = Level(span.Sound, profile) * push;
        int first = Step(span.Start - 0.010);
        int end = Step(span.End + 0.012);
        for (int step = first; step < end; step++)
        {
            double place = (double)(step - first) / (end - first);
            double shape = Math.Min(1, Math.Min(place, 1 - place) * 3.2);
            Noise(step, span.Sound, level * shape * shape * (3 - 2 * shape));
        }
    }

    // A stop is silence, then a burst; an unvoiced one goes on as breath.
    private void DrawBurst(in SoundSpan span, SingerProfile profile, double push)
    {
        bool isVoiced = span.Sound.Voicing > 0;
        double level = Level(span.Sound, profile) * push;
        double burst = span.End - (isVoiced ? 0.010 : 0.032);
        double fall = (isVoiced ? 0.004 : 0.009) * stepsPerSecond;
        for (int step = Step(burst); step < Step(burst + 0.045); step++)
        {
            Noise(step, span.Sound, level * Math.Exp(-(step - Step(burst)) / fall));
        }

        if (!isVoiced)
        {
            Breathing.AsSpan(Step(burst + 0.006)..Step(span.End + 0.012)).Fill(0.16 * push);
        }
    }

    private void DrawInhaling(double end, SingerProfile profile)
    {
        const double Seconds = 0.34;
        int first = Step(end - Seconds);
        for (int step = first; step < Step(end); step++)
        {
            double place = (step - first) / (Seconds * stepsPerSecond);
            Breathing[step] = Math.Max(Breathing[step], 0.045 * profile.Breath * Math.Sin(Math.PI * place * place));
        }
    }

    private void Noise(int step, in Sound sound, double level)
    {
        if (level >= NoiseLevel[step])
        {
            NoiseLevel[step] = level;
            NoiseHertz[step] = sound.NoiseHertz;
            NoiseQ[step] = sound.NoiseQ;
        }
    }

    private static double Level(in Sound sound, SingerProfile profile)
    {
        bool hisses = sound.IsSibilant || (sound.Kind == SoundKind.Plosive && sound.NoiseHertz > 4000);
        return sound.NoiseLevel * Decibels.ToAmplitude(profile.ConsonantDb + (hisses ? profile.SibilanceDb : 0));
    }

    private static Sound NextVowel(IReadOnlyList<SoundSpan> spans, int index) =>
        spans.Skip(index).Select(span => span.Sound).FirstOrDefault(sound => sound.IsVowel, Phonemes.Of('@'));

    private int Step(double seconds) => Math.Clamp((int)Math.Round(seconds * stepsPerSecond), 0, Steps - 1);

    private double[] Filled(double value)
    {
        double[] curve = new double[Steps];
        Array.Fill(curve, value);
        return curve;
    }
}
