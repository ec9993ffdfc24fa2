using LiveStems.Dsp;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Probe;

/// <summary>Measures what a processor or a chain does, by sending tones, steps, silence and noise through it.</summary>
public sealed class ProcessorProbe
{
    private const double ResponseSettleSeconds = 0.25;
    private const double LevelSettleSeconds = 1;
    private const double LevelFrequency = 1000;
    private const int Harmonics = 9;

    private readonly IProbed probed;
    private readonly int sampleRate;
    private readonly ToneMeter tones;

    /// <summary>Prepares what is probed for a rate of 8 000 to 384 000 Hz.</summary>
    public ProcessorProbe(IProbed probed, int sampleRate)
    {
        this.probed = probed;
        this.sampleRate = sampleRate;
        tones = new ToneMeter(probed, sampleRate);
        probed.Prepare(new ProcessingFormat(sampleRate, ToneMeter.BlockFrames));
    }

    /// <summary>Probes one processor, whose parameters are set.</summary>
    public ProcessorProbe(Processor processor, int sampleRate)
        : this(new ProbedProcessor(processor), sampleRate)
    {
    }

    /// <summary>
    /// Response from 20 Hz to 20 kHz (or just below half the rate) in sixths of an octave, at a peak level in dBFS; the
    /// level curve and harmonics at 1 kHz from −80 to 0 dBFS in steps of 2 dB; the gain over a step; noise; reverberation; cost.
    /// </summary>
    public ProbeReport Measure(double responseLevelDbfs, CancellationToken cancellation)
    {
        List<ResponsePoint> response = [];
        foreach (double frequency in Frequencies())
        {
            cancellation.ThrowIfCancellationRequested();
            response.Add(RespondAt(frequency, responseLevelDbfs));
        }

        List<LevelPoint> levels = [];
        for (double level = -80; level <= 0; level += 2)
        {
            cancellation.ThrowIfCancellationRequested();
            levels.Add(MeasureAt(level));
        }

        return new ProbeReport(
            sampleRate, probed.LatencyFrames, responseLevelDbfs, response, LevelFrequency, levels,
            StepProbe.Measure(probed, sampleRate), NoiseFloorDbfs(), DecayProbe.Measure(probed, sampleRate), CostProbe.Measure(probed, sampleRate, ToneMeter.BlockFrames), CostProbe.Measure(probed, sampleRate, 64));
    }

    /// <summary>What comes out of a tone of 1 kHz at a peak level in dBFS, and its harmonics.</summary>
    public LevelPoint MeasureAt(double levelDbfs)
    {
        int harmonics = (int)Math.Clamp(0.49 * sampleRate / LevelFrequency, 1, Harmonics);
        ToneResult tone = tones.Measure(LevelFrequency, levelDbfs, LevelSettleSeconds, harmonics);
        return new LevelPoint(levelDbfs, tone.OutputDbfs, [.. tone.Harmonics[1..].Select(each => Decibels.FromAmplitude(each / tone.Harmonics[0]))]);
    }

    /// <summary>Output over input in dB for a tone of a peak level in dBFS, at the frequency nearest to one in Hz that can be measured.</summary>
    public (double FrequencyHz, double GainDb) GainAt(double frequencyHz, double levelDbfs)
    {
        double frequency = tones.Nearest(frequencyHz);
        return (frequency, Decibels.FromAmplitude(tones.Measure(frequency, levelDbfs, ResponseSettleSeconds, 1).Harmonics[0]) - levelDbfs);
    }

    /// <summary>The gain over time while the level of a tone near 1 kHz steps from −30 to −6 dBFS and, a second later, back.</summary>
    public IReadOnlyList<StepPoint> MeasureStep() => StepProbe.Measure(probed, sampleRate);

    // Group delay is the slope of the phase between two tones as near as the window tells apart.
    private ResponsePoint RespondAt(double frequency, double levelDbfs)
    {
        ToneResult tone = tones.Measure(frequency, levelDbfs, ResponseSettleSeconds, 1);
        double beside = frequency + 1 / ToneMeter.WindowSeconds;
        double turned = tones.Measure(beside, levelDbfs, ResponseSettleSeconds, 1).PhaseDegrees - tone.PhaseDegrees;
        turned -= 360 * Math.Round(turned / 360);
        double gain = Decibels.FromAmplitude(tone.Harmonics[0]) - levelDbfs;
        return new ResponsePoint(frequency, gain, tone.PhaseDegrees, -turned / 360 / (beside - frequency) * 1000);
    }

    private IEnumerable<double> Frequencies()
    {
        double highest = Math.Min(20_000, 0.49 * sampleRate);
        for (int sixth = 0; ; sixth++)
        {
            double frequency = tones.Nearest(20 * Math.Pow(2, sixth / 6.0));
            if (frequency > highest)
            {
                yield break;
            }

            yield return frequency;
        }
    }

    private double NoiseFloorDbfs()
    {
        probed.Reset();
        float[] left = new float[ToneMeter.BlockFrames];
        float[] right = new float[ToneMeter.BlockFrames];
        double power = 0;
        int blocks = sampleRate / ToneMeter.BlockFrames;
        for (int block = 0; block < 2 * blocks; block++)
        {
            Array.Clear(left);
            Array.Clear(right);
            probed.Process(left, right);
            for (int i = 0; block >= blocks && i < left.Length; i++)
            {
                power += ((double)left[i] * left[i] + (double)right[i] * right[i]) / 2;
            }
        }

        return Decibels.FromPower(power / (blocks * (double)ToneMeter.BlockFrames));
    }
}
