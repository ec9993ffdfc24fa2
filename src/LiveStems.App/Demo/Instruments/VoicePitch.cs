using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>The pitch curve of a voice: glides from note to note, scoops into phrases, late vibrato, and unrest.</summary>
internal static class VoicePitch
{
    public static double[] Draw(IReadOnlyList<SoundSpan> spans, SingerProfile profile, int steps, double stepsPerSecond)
    {
        double[] key = new double[steps];
        double[] vibrato = new double[steps];
        Array.Fill(key, spans.Count > 0 ? spans[0].Key : 60);
        for (int i = 0; i < spans.Count; i++)
        {
            SoundSpan span = spans[i];
            int first = At(span.NoteStart - 0.03, steps, stepsPerSecond);
            Array.Fill(key, span.Key, first, steps - first);
            bool isLong = span.Sound.IsVowel && span.End - span.NoteStart > 0.55;
            int from = At(span.NoteStart + 0.28, steps, stepsPerSecond);
            int to = At(span.End, steps, stepsPerSecond);
            for (int step = from; isLong && step < to; step++)
            {
                vibrato[step] = Math.Min(1, (step - from) / (0.5 * stepsPerSecond));
            }
        }

        Scoop(key, spans, stepsPerSecond);
        ControlCurves.Smooth(key, 0.020 * stepsPerSecond);
        ControlCurves.Smooth(vibrato, 0.040 * stepsPerSecond);
        AddUnrest(key, vibrato, profile, stepsPerSecond);
        return key;
    }

    private static void Scoop(double[] key, IReadOnlyList<SoundSpan> spans, double stepsPerSecond)
    {
        foreach (SoundSpan span in spans)
        {
            if (!span.BeginsPhrase || !span.Sound.IsVowel)
            {
                continue;
            }

            int first = At(span.NoteStart - 0.03, key.Length, stepsPerSecond);
            int end = At(span.NoteStart + 0.11, key.Length, stepsPerSecond);
            for (int step = first; step < end; step++)
            {
                key[step] = span.Key - 0.9 * (1 - (double)(step - first) / (end - first));
            }
        }
    }

    private static void AddUnrest(double[] key, double[] vibrato, SingerProfile profile, double stepsPerSecond)
    {
        var random = new Noise(profile.Seed);
        double drift = 0;
        double jitter = 0;
        double phase = random.Between(0, 1);
        double driftShare = 1 - Math.Exp(-1 / (0.45 * stepsPerSecond));
        double jitterShare = 1 - Math.Exp(-1 / (0.012 * stepsPerSecond));
        for (int i = 0; i < key.Length; i++)
        {
            drift += driftShare * (random.Bell() - drift);
            jitter += jitterShare * (random.Bell() - jitter);
            phase += profile.VibratoHertz * (1 + 0.6 * drift) / stepsPerSecond;
            double cents = profile.DetuneCents + 160 * drift + 14 * jitter
                + profile.VibratoCents * vibrato[i] * SineTable.Turn(phase);
            key[i] += cents / 100;
        }
    }

    private static int At(double seconds, int steps, double stepsPerSecond) =>
        Math.Clamp((int)Math.Round(seconds * stepsPerSecond), 0, steps - 1);
}
