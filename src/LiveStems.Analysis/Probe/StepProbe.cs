using LiveStems.Dsp;

namespace LiveStems.Analysis.Probe;

/// <summary>
/// The gain over time when a tone near 1 kHz steps up and, a second later, down again: the output demodulated over one
/// period of the tone, against the input's amplitude at the same place.
/// </summary>
internal static class StepProbe
{
    /// <summary>Level before and after, in dBFS.</summary>
    public const double LowDbfs = -30;

    /// <summary>Level in between, in dBFS.</summary>
    public const double HighDbfs = -6;

    private const double BeforeSeconds = 0.5;
    private const double HighSeconds = 1;
    private const double AfterSeconds = 1;

    /// <summary>Gain at every millisecond or so; 0 seconds is the step up, 1 second the step down.</summary>
    public static IReadOnlyList<StepPoint> Measure(IProbed probed, int sampleRate)
    {
        probed.Reset();
        int period = (int)Math.Round(sampleRate / 1000.0);
        int before = Periods(BeforeSeconds, period, sampleRate);
        int down = before + Periods(HighSeconds, period, sampleRate);
        int end = down + Periods(AfterSeconds, period, sampleRate);
        float[] left = new float[period];
        float[] right = new float[period];
        float[] late = new float[probed.LatencyFrames];
        List<StepPoint> points = [];

        // The output is shifted back by the latency through a small ring, so that each period meets its own input.
        Queue<float> output = new(period + late.Length);
        int toSkip = probed.LatencyFrames;
        int measured = 0;
        for (int i = 0; measured < end; i++)
        {
            Fill(left, right, Level(i, before, down, end));
            probed.Process(left, right);
            foreach (float sample in left)
            {
                if (toSkip > 0)
                {
                    toSkip--;
                    continue;
                }

                output.Enqueue(sample);
            }

            if (output.Count >= period)
            {
                double gain = Amplitude(output, period) / Level(measured, before, down, end);
                points.Add(new StepPoint((measured - before) * (double)period / sampleRate, Decibels.FromAmplitude(gain)));
                measured++;
            }
        }

        return points;
    }

    private static int Periods(double seconds, int period, int sampleRate) => (int)Math.Round(seconds * sampleRate / period);

    private static double Level(int index, int up, int down, int end) =>
        Decibels.ToAmplitude(index >= up && index < Math.Min(down, end) ? HighDbfs : LowDbfs);

    private static void Fill(float[] left, float[] right, double amplitude)
    {
        for (int i = 0; i < left.Length; i++)
        {
            left[i] = right[i] = (float)(amplitude * Math.Sin(2 * Math.PI * i / left.Length));
        }
    }

    private static double Amplitude(Queue<float> output, int period)
    {
        double cosine = 0;
        double sine = 0;
        for (int i = 0; i < period; i++)
        {
            (double sin, double cos) = Math.SinCos(2 * Math.PI * i / period);
            float sample = output.Dequeue();
            cosine += sample * cos;
            sine += sample * sin;
        }

        return 2 * Math.Sqrt(cosine * cosine + sine * sine) / period;
    }
}
