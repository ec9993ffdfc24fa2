namespace LiveStems.App.Demo.Mixing;

/// <summary>The box of a steel-string guitar: air, top plate, back plate, and the sparkle of a close microphone.</summary>
internal static class GuitarBody
{
    /// <param name="strings">Dry strings, changed in place.</param>
    /// <param name="sampleRate">Sample rate in Hz.</param>
    /// <param name="airHertz">Resonance of the air in the box.</param>
    /// <param name="airDb">Its strength; 5 is a good guitar, 10 booms.</param>
    public static void Process(float[] strings, int sampleRate, double airHertz, double airDb)
    {
        Biquad.Process(Biquad.HighPass(95, 0.7, sampleRate), strings);
        Biquad.Process(Biquad.Bell(airHertz, 4, airDb, sampleRate), strings);
        Biquad.Process(Biquad.Bell(1.9 * airHertz, 4, 4, sampleRate), strings);
        Biquad.Process(Biquad.Bell(395, 2.5, 1, sampleRate), strings);
        Biquad.Process(Biquad.Bell(850, 1.2, -4, sampleRate), strings);
        Biquad.Process(Biquad.Bell(1600, 1.4, -2, sampleRate), strings);
        Biquad.Process(Biquad.HighShelf(3200, 7, sampleRate), strings);
    }
}
