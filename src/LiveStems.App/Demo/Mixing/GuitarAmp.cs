namespace LiveStems.App.Demo.Mixing;

/// <summary>Valves and loudspeaker of a guitar amplifier.</summary>
internal static class GuitarAmp
{
    /// <summary>Drives a guitar into a pre-amplifier, a power amplifier and a cabinet, in place.</summary>
    /// <param name="guitar">Dry strings.</param>
    /// <param name="sampleRate">Sample rate in Hz.</param>
    /// <param name="driveDb">Gain into the first valve.</param>
    /// <param name="toneHertz">Where the loudspeaker stops, 3500 dark to 6500 bright.</param>
    public static void Process(float[] guitar, int sampleRate, double driveDb, double toneHertz)
    {
        Biquad.Process(Biquad.HighPass(110, 0.7, sampleRate), guitar);
        Biquad.Process(Biquad.Bell(750, 0.6, 5, sampleRate), guitar);
        Saturator.Process(guitar, driveDb, 0.25);
        Biquad.Process(Biquad.HighPass(70, 0.7, sampleRate), guitar);
        Biquad.Process(Biquad.LowPass(7500, 0.6, sampleRate), guitar);
        Saturator.Process(guitar, driveDb / 3, 0.1);
        Cabinet(guitar, sampleRate, toneHertz);
    }

    /// <summary>A twelve-inch loudspeaker in an open box under a close microphone.</summary>
    public static void Cabinet(float[] guitar, int sampleRate, double toneHertz)
    {
        Biquad.Process(Biquad.HighPass(85, 0.9, sampleRate), guitar);
        Biquad.Process(Biquad.Bell(125, 1.2, 3, sampleRate), guitar);
        Biquad.Process(Biquad.Bell(420, 0.9, -3.5, sampleRate), guitar);
        Biquad.Process(Biquad.Bell(2300, 1.0, 3.5, sampleRate), guitar);
        Biquad.Process(Biquad.LowPass(toneHertz, 0.9, sampleRate), guitar);
        Biquad.Process(Biquad.LowPass(1.15 * toneHertz, 0.6, sampleRate), guitar);
        Reflect(guitar, sampleRate);
    }

    // The floor and the box send the sound back a little later: shallow combs that no filter gives.
    private static void Reflect(float[] guitar, int sampleRate)
    {
        int floor = (int)(0.00113 * sampleRate);
        int box = (int)(0.00047 * sampleRate);
        for (int i = guitar.Length - 1; i >= floor; i--)
        {
            guitar[i] += 0.18f * guitar[i - box] - 0.14f * guitar[i - floor];
        }
    }
}
