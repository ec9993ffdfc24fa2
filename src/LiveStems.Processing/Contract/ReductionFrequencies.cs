namespace LiveStems.Processing.Contract;

/// <summary>Frequencies for curves of filters, evenly spaced as the ear has them.</summary>
public static class ReductionFrequencies
{
    /// <summary>How many there are: 24 an octave from 20 Hz to 20 kHz.</summary>
    public const int Count = 240;

    /// <summary>From 20 Hz to 20 kHz, or to 0.45 of the sample rate where that is less; evenly spaced in octaves.</summary>
    public static float[] UpTo(int sampleRate)
    {
        double octaves = Math.Log2(Math.Min(20_000, 0.45 * sampleRate) / 20);
        float[] frequencies = new float[Count];
        for (int i = 0; i < Count; i++)
        {
            frequencies[i] = (float)(20 * Math.Pow(2, octaves * i / (Count - 1)));
        }

        return frequencies;
    }
}
