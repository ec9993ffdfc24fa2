using LiveStems.Dsp;

namespace LiveStems.Analysis.Probe;

/// <summary>What came out when a tone went in.</summary>
/// <param name="Harmonics">Amplitude of the fundamental and its harmonics, first the fundamental, full scale 1.</param>
/// <param name="PhaseDegrees">Phase of the fundamental against the input, the declared latency removed, −180 to +180.</param>
/// <param name="Power">Mean square of everything that came out on the left.</param>
internal readonly record struct ToneResult(double[] Harmonics, double PhaseDegrees, double Power)
{
    /// <summary>Level of everything, as the peak of a sine of the same power, in dBFS.</summary>
    public double OutputDbfs => Decibels.FromPower(2 * Power);
}

/// <summary>
/// Sends tones through what is probed. Each is measured over a whole number of its periods, so that a discrete Fourier
/// transform at single bins separates it exactly from its own harmonics.
/// </summary>
internal sealed class ToneMeter(IProbed probed, int sampleRate)
{
    /// <summary>Frames given to the probed at a time.</summary>
    public const int BlockFrames = 512;

    /// <summary>Seconds that are measured; tones are multiples of its inverse.</summary>
    public const double WindowSeconds = 0.25;

    // One turn in as many steps as the window has frames: every phase that a measured tone takes stands in it.
    private readonly double[] turn = [.. Enumerable.Range(0, (int)Math.Round(WindowSeconds * sampleRate)).Select(i => Math.Sin(2 * Math.PI * i / Math.Round(WindowSeconds * sampleRate)))];
    private readonly float[] left = new float[BlockFrames];
    private readonly float[] right = new float[BlockFrames];

    /// <summary>The multiple of the window's frequency nearest to a frequency in Hz.</summary>
    public double Nearest(double frequencyHz) => Math.Round(frequencyHz * WindowFrames / sampleRate) * sampleRate / WindowFrames;

    private int WindowFrames => turn.Length;

    /// <summary>Measures one tone.</summary>
    /// <param name="frequency">Frequency in Hz, rounded to the window.</param>
    /// <param name="levelDbfs">Peak level.</param>
    /// <param name="settleSeconds">Time before the window.</param>
    /// <param name="harmonics">How many multiples are measured, the fundamental included.</param>
    public ToneResult Measure(double frequency, double levelDbfs, double settleSeconds, int harmonics)
    {
        probed.Reset();
        int window = WindowFrames;
        int start = (int)Math.Round(settleSeconds * sampleRate) + probed.LatencyFrames;
        double amplitude = Decibels.ToAmplitude(levelDbfs);
        long periods = (long)Math.Round(frequency * window / sampleRate);
        double[] cosine = new double[harmonics];
        double[] sine = new double[harmonics];
        double power = 0;
        for (int frame = 0; frame < start + window; frame += BlockFrames)
        {
            int count = Math.Min(BlockFrames, start + window - frame);
            for (int i = 0; i < count; i++)
            {
                left[i] = right[i] = (float)(amplitude * Sine(periods * (frame + i)));
            }

            probed.Process(left.AsSpan(0, count), right.AsSpan(0, count));
            for (int i = Math.Max(0, start - frame); i < count; i++)
            {
                long phase = periods * (frame + i - probed.LatencyFrames);
                for (int k = 0; k < harmonics; k++)
                {
                    cosine[k] += left[i] * Cosine((k + 1) * phase);
                    sine[k] += left[i] * Sine((k + 1) * phase);
                }

                power += (double)left[i] * left[i];
            }
        }

        double[] amplitudes = new double[harmonics];
        for (int k = 0; k < harmonics; k++)
        {
            amplitudes[k] = 2 * Math.Sqrt(cosine[k] * cosine[k] + sine[k] * sine[k]) / window;
        }

        return new ToneResult(amplitudes, Math.Atan2(cosine[0], sine[0]) * 180 / Math.PI, power / window);
    }

    private double Sine(long steps) => turn[(int)(((steps % turn.Length) + turn.Length) % turn.Length)];

    // A quarter turn is a whole number of steps where four divides the window.
    private double Cosine(long steps) => turn.Length % 4 == 0
        ? Sine(steps + turn.Length / 4)
        : Math.Cos(2 * Math.PI * (steps % turn.Length) / turn.Length);
}
