using LiveStems.Dsp;
using LiveStems.Dsp.Filters;

namespace LiveStems.Engine.Monitor;

/// <summary>
/// Pink noise at −20 dBFS RMS from 8 Hz to 26 kHz or half the sample rate; the same every time. Equal power in every
/// third octave from 25 Hz to 20 kHz, within 0.1 dB in the mean.
/// </summary>
/// <remarks>
/// White noise of even distribution from SplitMix64 (G. Steele, D. Lea, C. Flood, OOPSLA 2014; from memory), through a
/// <see cref="PinkSlope"/>, a Butterworth high-pass of order 2 that keeps steady offset away from loudspeakers, and at
/// high sample rates a low-pass of order 8, without which what nobody hears would count in the level.
/// </remarks>
internal sealed class PinkNoise
{
    private const ulong Seed = 0x9E3779B97F4A7C15;
    private const double LevelDbfs = -20;
    private const double LowestHz = 8;
    private const double HighestHz = 26_000;

    private readonly PinkSlope slope;
    private readonly StereoCascade band = new(2 * MatchedDesign.MaximumSections);
    private readonly double scale;
    private ulong state = Seed;

    public PinkNoise(int sampleRate)
    {
        slope = new(sampleRate);
        List<FilterSettings> edges = [new(FilterShape.HighPass, LowestHz, 0, Math.Sqrt(0.5), 2)];
        if (HighestHz < MatchedDesign.HighestShare * sampleRate)
        {
            edges.Add(new(FilterShape.LowPass, HighestHz, 0, 1, 8));
        }

        Span<StateVariableCoefficients> sections = stackalloc StateVariableCoefficients[MatchedDesign.MaximumSections];
        int next = 0;
        foreach (FilterSettings edge in edges)
        {
            int count = MatchedDesign.Design(edge, sampleRate, sections);
            for (int i = 0; i < count; i++)
            {
                band.Set(next++, sections[i]);
            }
        }

        scale = Decibels.ToAmplitude(LevelDbfs) / Math.Sqrt(MeanPower(edges, sampleRate));
    }

    /// <summary>Back to the first sample.</summary>
    public void Reset()
    {
        state = Seed;
        slope.Reset();
        band.Reset();
    }

    /// <summary>The next frames; the second span is room to work in.</summary>
    public void Fill(Span<float> samples, Span<float> room)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            samples[i] = (float)(scale * slope.Next(White()));
            room[i] = 0;
        }

        band.Process(samples, room);
    }

    // Evenly distributed between ±√3: the mean square is 1.
    private double White()
    {
        state += 0x9E3779B97F4A7C15;
        ulong mixed = (state ^ (state >> 30)) * 0xBF58476D1CE4E5B9;
        mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EB;
        mixed ^= mixed >> 31;
        return Math.Sqrt(3) * ((mixed >> 11) * (2.0 / (1L << 53)) - 1);
    }

    // Mean of |H|² over all frequencies, by the trapezoidal rule in the logarithm of frequency.
    private double MeanPower(List<FilterSettings> edges, int sampleRate)
    {
        const int Points = 2000;
        double lowest = Math.Log(0.1);
        double step = (Math.Log(sampleRate / 2.0) - lowest) / Points;
        double sum = 0;
        for (int i = 0; i <= Points; i++)
        {
            double frequency = Math.Exp(lowest + i * step);
            double db = edges.Sum(edge => AnaloguePrototype.GainDb(edge, frequency));
            double power = slope.PowerAt(2 * Math.PI * frequency / sampleRate) * Decibels.ToPower(db);
            sum += power * frequency * (i is 0 or Points ? 0.5 : 1);
        }

        return sum * step / (sampleRate / 2.0);
    }
}
