namespace LiveStems.Tests.Signals;

/// <summary>Reproducible noise whose spectrum falls by 3 dB an octave.</summary>
internal static class PinkNoise
{
    /// <summary>
    /// Pink noise of an RMS level: white noise through three first-order sections with zeros between their poles (R. Bristow-Johnson's
    /// approximation, from memory; within about 0.3 dB over the audible range at 48 kHz).
    /// </summary>
    public static float[] Make(int frames, int seed, double rms)
    {
        ReadOnlySpan<double> poles = [0.99572754, 0.94790649, 0.53567505];
        ReadOnlySpan<double> zeros = [0.98443604, 0.83392334, 0.07568359];
        Random random = new(seed);
        double[] samples = new double[frames];
        Span<double> lastIn = stackalloc double[3];
        Span<double> lastOut = stackalloc double[3];
        double power = 0;
        for (int n = 0; n < frames; n++)
        {
            double value = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            for (int section = 0; section < 3; section++)
            {
                double output = value - zeros[section] * lastIn[section] + poles[section] * lastOut[section];
                (lastIn[section], lastOut[section]) = (value, output);
                value = output;
            }

            samples[n] = value;
            power += value * value;
        }

        double gain = rms / Math.Sqrt(power / frames);
        return [.. samples.Select(sample => (float)(gain * sample))];
    }
}
