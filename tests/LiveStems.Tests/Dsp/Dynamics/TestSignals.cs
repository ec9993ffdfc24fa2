namespace LiveStems.Tests.Dsp.Dynamics;

/// <summary>Sounds that dynamic processors are tried with; the same ones in every run.</summary>
internal static class TestSignals
{
    public static float[] Sine(int frames, double frequencyHz, double sampleRate, double amplitude = 1, double phase = 0)
    {
        float[] signal = new float[frames];
        for (int i = 0; i < frames; i++)
        {
            signal[i] = (float)(amplitude * Math.Sin(2 * Math.PI * frequencyHz * i / sampleRate + phase));
        }

        return signal;
    }

    public static float[] WhiteNoise(int frames, int seed, double amplitude = 1)
    {
        Random random = new(seed);
        float[] signal = new float[frames];
        for (int i = 0; i < frames; i++)
        {
            signal[i] = (float)(amplitude * (2 * random.NextDouble() - 1));
        }

        return signal;
    }

    /// <summary>Noise with a spectrum that falls like music's, swelling and dying, with bursts.</summary>
    public static float[] MusicLike(int frames, int seed, double amplitude = 1)
    {
        Random random = new(seed);
        float[] signal = new float[frames];
        double low = 0;
        double high = 0;
        double envelope = 0;
        for (int i = 0; i < frames; i++)
        {
            if (random.NextDouble() < 0.0003)
            {
                envelope = 0.3 + 0.7 * random.NextDouble();
            }

            envelope *= 0.9998;
            double white = 2 * random.NextDouble() - 1;
            low += 0.02 * (white - low);
            high += 0.3 * (white - high);
            signal[i] = (float)(amplitude * (0.2 + envelope) * (5 * low + 0.6 * high));
        }

        return signal;
    }

    public static float[] Square(int frames, double periodFrames, double amplitude = 1)
    {
        float[] signal = new float[frames];
        for (int i = 0; i < frames; i++)
        {
            signal[i] = (float)(i % periodFrames < periodFrames / 2 ? amplitude : -amplitude);
        }

        return signal;
    }

    /// <summary>A sine whose frequency rises evenly from one end to the other.</summary>
    public static float[] Sweep(int frames, double fromHz, double toHz, double sampleRate, double amplitude = 1)
    {
        float[] signal = new float[frames];
        double phase = 0;
        for (int i = 0; i < frames; i++)
        {
            signal[i] = (float)(amplitude * Math.Sin(phase));
            phase += 2 * Math.PI * (fromHz + (toHz - fromHz) * i / frames) / sampleRate;
        }

        return signal;
    }

    /// <summary>A walk of even steps, folded at ±amplitude.</summary>
    public static float[] RandomWalk(int frames, int seed, double step, double amplitude = 1)
    {
        Random random = new(seed);
        float[] signal = new float[frames];
        double value = 0;
        for (int i = 0; i < frames; i++)
        {
            value += step * (2 * random.NextDouble() - 1);
            value = Math.Clamp(value, -amplitude, amplitude);
            signal[i] = (float)value;
        }

        return signal;
    }

    /// <summary>Alternating signs that turn once every so many samples: the highest peaks between samples there are.</summary>
    public static float[] TurningAlternation(int frames, int every, double amplitude = 1)
    {
        float[] signal = new float[frames];
        int sign = 1;
        for (int i = 0; i < frames; i++)
        {
            if (i % every != 0)
            {
                sign = -sign;
            }

            signal[i] = (float)(sign * amplitude);
        }

        return signal;
    }

    /// <summary>Random signs at full level.</summary>
    public static float[] RandomSigns(int frames, int seed, double amplitude = 1)
    {
        Random random = new(seed);
        float[] signal = new float[frames];
        for (int i = 0; i < frames; i++)
        {
            signal[i] = (float)(random.Next(2) == 0 ? amplitude : -amplitude);
        }

        return signal;
    }

    /// <summary>Single samples in silence.</summary>
    public static float[] Clicks(int frames, int every, double amplitude = 1)
    {
        float[] signal = new float[frames];
        for (int i = every / 2; i < frames; i += every)
        {
            signal[i] = (float)(i / every % 2 == 0 ? amplitude : -amplitude);
        }

        return signal;
    }

    /// <summary>Another sound that starts and stops suddenly.</summary>
    public static float[] Gated(float[] signal, int onFrames, int offFrames)
    {
        float[] gated = [.. signal];
        for (int i = 0; i < gated.Length; i++)
        {
            if (i % (onFrames + offFrames) < offFrames)
            {
                gated[i] = 0;
            }
        }

        return gated;
    }
}
