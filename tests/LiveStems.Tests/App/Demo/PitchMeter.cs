namespace LiveStems.Tests.App.Demo;

/// <summary>Fundamental frequency by the highest peak of the autocorrelation, with a parabola through its top.</summary>
internal static class PitchMeter
{
    public static double Hertz(StemSound sound, double start, double seconds, double lowHz, double highHz)
    {
        ReadOnlySpan<float> samples = sound.Left.AsSpan((int)(start * sound.SampleRate), (int)(seconds * sound.SampleRate));
        int shortest = (int)(sound.SampleRate / highHz);
        int longest = (int)(sound.SampleRate / lowHz);
        double[] correlation = new double[longest + 2];
        int best = shortest;
        for (int lag = shortest - 1; lag < correlation.Length; lag++)
        {
            double sum = 0;
            double energy = 1e-12;
            for (int i = 0; i + lag < samples.Length; i++)
            {
                sum += samples[i] * samples[i + lag];
                energy += samples[i] * samples[i] + samples[i + lag] * samples[i + lag];
            }

            correlation[lag] = 2 * sum / energy;
            best = lag >= shortest && lag <= longest && correlation[lag] > correlation[best] ? lag : best;
        }

        (double left, double top, double right) = (correlation[best - 1], correlation[best], correlation[best + 1]);
        return sound.SampleRate / (best + 0.5 * (left - right) / (left - 2 * top + right));
    }

    public static double Cents(double hertz, double key) => 1200 * Math.Log2(hertz / 440) - 100 * (key - 69);
}
