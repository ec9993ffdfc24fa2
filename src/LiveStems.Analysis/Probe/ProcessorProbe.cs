using LiveStems.Dsp;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Probe;

/// <summary>
/// Measures what a processor does by sending tones through it: each lasts a whole number of periods, so that a discrete
/// Fourier transform at one bin separates it exactly from its own harmonics.
/// </summary>
public sealed class ProcessorProbe
{
    private const int BlockFrames = 512;
    private const double WindowSeconds = 0.25;
    private const double ResponseSettleSeconds = 0.25;
    private const double LevelSettleSeconds = 1;

    private readonly Processor processor;
    private readonly int sampleRate;
    private readonly float[] left = new float[BlockFrames];
    private readonly float[] right = new float[BlockFrames];

    /// <summary>Prepares a processor, whose parameters are set, for a rate of 8 000 to 384 000 Hz.</summary>
    public ProcessorProbe(Processor processor, int sampleRate)
    {
        this.processor = processor;
        this.sampleRate = sampleRate;
        processor.Prepare(new ProcessingFormat(sampleRate, BlockFrames));
    }

    /// <summary>
    /// Response from 20 Hz to 20 kHz (or just below half the rate) in sixths of an octave, at a peak level in dBFS; and the
    /// level curve at 1 kHz from −80 to 0 dBFS in steps of 2 dB.
    /// </summary>
    public ProbeReport Measure(double responseLevelDbfs, CancellationToken cancellation)
    {
        List<ResponsePoint> response = [];
        foreach (double frequency in Frequencies())
        {
            cancellation.ThrowIfCancellationRequested();
            (double gain, double phase, _) = Tone(frequency, responseLevelDbfs, ResponseSettleSeconds);
            response.Add(new ResponsePoint(frequency, gain, phase));
        }

        const double LevelFrequency = 1000;
        List<LevelPoint> levels = [];
        for (double level = -80; level <= 0; level += 2)
        {
            cancellation.ThrowIfCancellationRequested();
            levels.Add(new LevelPoint(level, Tone(LevelFrequency, level, LevelSettleSeconds).OutputDbfs));
        }

        return new ProbeReport(sampleRate, processor.LatencyFrames, responseLevelDbfs, response, LevelFrequency, levels);
    }

    private IEnumerable<double> Frequencies()
    {
        double highest = Math.Min(20_000, 0.49 * sampleRate);
        for (int sixth = 0; ; sixth++)
        {
            double frequency = Math.Round(20 * Math.Pow(2, sixth / 6.0) * WindowSeconds) / WindowSeconds;
            if (frequency > highest)
            {
                yield break;
            }

            yield return frequency;
        }
    }

    private (double GainDb, double PhaseDegrees, double OutputDbfs) Tone(double frequency, double levelDbfs, double settleSeconds)
    {
        processor.Reset();
        int window = (int)Math.Round(WindowSeconds * sampleRate);
        int start = (int)Math.Round(settleSeconds * sampleRate) + processor.LatencyFrames;
        double amplitude = Decibels.ToAmplitude(levelDbfs);
        double step = Math.Round(frequency * window / sampleRate) / window;
        double cosine = 0;
        double sine = 0;
        double power = 0;
        for (int frame = 0; frame < start + window; frame += BlockFrames)
        {
            int count = Math.Min(BlockFrames, start + window - frame);
            for (int i = 0; i < count; i++)
            {
                left[i] = right[i] = (float)(amplitude * Math.Sin(2 * Math.PI * Fraction(step * (frame + i))));
            }

            processor.Process(new StereoBlock(left.AsSpan(0, count), right.AsSpan(0, count)));
            for (int i = Math.Max(0, start - frame); i < count; i++)
            {
                double angle = 2 * Math.PI * Fraction(step * (frame + i - processor.LatencyFrames));
                cosine += left[i] * Math.Cos(angle);
                sine += left[i] * Math.Sin(angle);
                power += (double)left[i] * left[i];
            }
        }

        double gain = 2 * Math.Sqrt(cosine * cosine + sine * sine) / window / amplitude;
        double phase = Math.Atan2(cosine, sine) * 180 / Math.PI;
        return (Decibels.FromAmplitude(gain), phase, Decibels.FromPower(2 * power / window));
    }

    private static double Fraction(double turns) => turns - Math.Floor(turns);
}
