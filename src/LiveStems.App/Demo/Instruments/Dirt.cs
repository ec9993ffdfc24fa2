using LiveStems.App.Demo.Mixing;
using LiveStems.Dsp;

namespace LiveStems.App.Demo.Instruments;

/// <summary>What gets onto recordings without being played: rumble, sub-sonic wander, hiss.</summary>
internal static class Dirt
{
    private const int Interval = 64;

    /// <summary>Adds noise between two frequencies, 12 dB an octave each side, its level by a curve over time.</summary>
    /// <param name="samples">Track to soil.</param>
    /// <param name="sampleRate">Sample rate in Hz.</param>
    /// <param name="lowHertz">Lower edge.</param>
    /// <param name="highHertz">Upper edge.</param>
    /// <param name="levelDb">RMS level in dBFS where the curve is 1.</param>
    /// <param name="amountAt">Share over time in seconds, 0 to 1.</param>
    /// <param name="seed">The noise.</param>
    public static void Add(
        float[] samples, int sampleRate, double lowHertz, double highHertz, double levelDb, Func<double, double> amountAt, uint seed)
    {
        var noise = new Noise(seed);
        Biquad high = Biquad.HighPass(lowHertz, 0.8, sampleRate);
        Biquad higher = high;
        Biquad low = Biquad.LowPass(highHertz, 0.8, sampleRate);
        Biquad lower = low;

        // Even noise has a power of 1/3 over the whole band.
        double share = Math.Min(1, (highHertz - lowHertz) / (0.5 * sampleRate));
        double gain = Decibels.ToAmplitude(levelDb) / Math.Sqrt(share / 3);
        double amount = amountAt(0);
        for (int start = 0; start < samples.Length; start += Interval)
        {
            amount += 0.03 * (amountAt((double)start / sampleRate) - amount);
            int end = Math.Min(start + Interval, samples.Length);
            for (int i = start; i < end; i++)
            {
                double value = lower.Next(low.Next(higher.Next(high.Next(noise.Next()))));
                samples[i] += (float)(gain * amount * value);
            }
        }
    }
}
