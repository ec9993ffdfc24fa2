namespace LiveStems.Conformance.Resampling;

/// <summary>Dense tones at random up to a fraction of the Nyquist frequency of the lower rate, rising and falling slowly.</summary>
internal static class BandLimitedMaterial
{
    private const int Tones = 60;

    public static float[] Make(int fromRate, int toRate, double highestFraction, int frames)
    {
        Random random = new(1);
        double highest = Math.PI * highestFraction * Math.Min(fromRate, toRate) / fromRate;
        double[] sum = new double[frames];
        for (int tone = 0; tone < Tones; tone++)
        {
            double step = highest * (tone == 0 ? 1 : random.NextDouble());
            double phase = 2 * Math.PI * random.NextDouble();
            for (int n = 0; n < frames; n++)
            {
                sum[n] += Math.Sin(step * n + phase) / 20;
            }
        }

        // Begins and ends in silence: both sides of a comparison pad with silence, but filters differ in length.
        float[] material = new float[frames];
        for (int n = 0; n < frames; n++)
        {
            material[n] = (float)(sum[n] * 0.5 * (1 - Math.Cos(2 * Math.PI * n / (frames - 1))));
        }

        return material;
    }

    /// <summary>Root mean square of the difference relative to that of the reference, in decibels.</summary>
    public static double ResidualDb(ReadOnlySpan<double> reference, ReadOnlySpan<float> signal)
    {
        double difference = 0;
        double energy = 0;
        for (int n = 0; n < reference.Length; n++)
        {
            difference += (signal[n] - reference[n]) * (signal[n] - reference[n]);
            energy += reference[n] * reference[n];
        }

        return 10 * Math.Log10(difference / energy);
    }
}
