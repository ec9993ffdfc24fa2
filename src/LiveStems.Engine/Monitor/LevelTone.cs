using System.Numerics;
using LiveStems.Dsp;

namespace LiveStems.Engine.Monitor;

/// <summary>A sine of 1 kHz at −20 dBFS peak (−23.01 dBFS RMS), read from one exact repetition: it never drifts.</summary>
internal sealed class LevelTone
{
    private const int FrequencyHz = 1000;
    private const double PeakDbfs = -20;

    private readonly float[] repetition;
    private int position;

    public LevelTone(int sampleRate)
    {
        // n periods of the tone and m frames of the rate last equally long.
        int frames = sampleRate / (int)BigInteger.GreatestCommonDivisor(sampleRate, FrequencyHz);
        double peak = Decibels.ToAmplitude(PeakDbfs);
        repetition = new float[frames];
        for (int i = 0; i < frames; i++)
        {
            long turns = (long)FrequencyHz * i % sampleRate;
            repetition[i] = (float)(peak * Math.Sin(2 * Math.PI * turns / sampleRate));
        }
    }

    /// <summary>Back to the start of a period.</summary>
    public void Reset() => position = 0;

    /// <summary>The next frames.</summary>
    public void Fill(Span<float> samples)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            samples[i] = repetition[position];
            position = position + 1 == repetition.Length ? 0 : position + 1;
        }
    }
}
