using LiveStems.Albums.Model;
using LiveStems.App.Demo;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Bench.Planted;

/// <summary>A sound that resonances are planted in.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Role">What it plays.</param>
/// <param name="SampleRate">Frames per second.</param>
/// <param name="Sound">Its channels.</param>
/// <param name="Faults">What is wrong with it by the demo's notes.</param>
internal sealed record PlantedMaterial(string Name, StemRole Role, int SampleRate, float[][] Sound, IReadOnlyList<DemoFault> Faults)
{
    private const double AudibleBelowLoudestDb = 40;
    private const double SilentBelowLoudDb = 30;

    private double? loudestDb;
    private bool[]? sounding;

    /// <summary>Grid on which times are compared, seconds.</summary>
    public const double StepSeconds = 0.05;

    /// <summary>On a grid of <see cref="StepSeconds"/>: whether the stem sounds there or a third of a second around.</summary>
    public bool[] Sounding => sounding ??= FindSounding();

    public double Seconds => (double)Sound[0].Length / SampleRate;

    /// <summary>Pink noise of −20 dBFS RMS, each channel its own.</summary>
    public static PlantedMaterial Pink(double seconds, Random random) =>
        new("pink noise", StemRole.Other, 48_000, [PinkChannel(seconds, random), PinkChannel(seconds, random)], []);

    /// <summary>All stems of the demo album.</summary>
    public static IEnumerable<PlantedMaterial> DemoStems() => DemoAlbum.Songs.SelectMany(song => song.Stems.Select(stem =>
        new PlantedMaterial(
            $"{song.Title}/{stem.Name}", stem.Role, song.SampleRate, stem.Render(), [.. song.Faults.Where(fault => fault.Stem == stem.Name)])));

    /// <summary>
    /// True when the stem itself is heard at a frequency during some stretches: the level in the auditory filter there is no
    /// farther than 40 dB below that of the loudest one, over the same time. A resonance of nothing is none.
    /// </summary>
    public bool SoundsAt(double frequencyHz, float[] gate)
    {
        loudestDb ??= Enumerable.Range(0, 23).Max(third => Level(60 * Math.Pow(2, third / 3.0), null));
        return Level(frequencyHz, gate) > loudestDb - AudibleBelowLoudestDb;
    }

    private bool[] FindSounding()
    {
        int step = (int)(StepSeconds * SampleRate);
        double[] levels = [.. Sound[0].Chunk(step).Select(chunk => 10 * Math.Log10(chunk.Sum(sample => (double)sample * sample) / chunk.Length + 1e-20))];
        double loud = levels.Order().ElementAt((int)(0.95 * (levels.Length - 1)));
        const int Around = 7;
        return [.. levels.Select((_, at) => levels[Math.Max(0, at - Around)..Math.Min(levels.Length, at + Around + 1)].Max() > loud - SilentBelowLoudDb)];
    }

    private double Level(double frequencyHz, float[]? gate)
    {
        float[] band = PlantedResonance.BandPass(Sound[0], frequencyHz, frequencyHz / ErbScale.BandwidthHz(frequencyHz), SampleRate);
        double sum = 0;
        double weight = 1e-9;
        for (int n = 0; n < band.Length; n++)
        {
            double open = gate is null ? 1 : gate[n];
            sum += open * band[n] * band[n];
            weight += open;
        }

        return 10 * Math.Log10(sum / weight + 1e-20);
    }

    // P. Kellet's filter of white noise, within 0.05 dB of −3 dB an octave above 9.2 Hz at 44.1 kHz (from memory).
    private static float[] PinkChannel(double seconds, Random random)
    {
        float[] samples = new float[(int)(seconds * 48_000)];
        double b0 = 0, b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0, b6 = 0;
        double sum = 0;
        for (int n = 0; n < samples.Length; n++)
        {
            double white = random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5;
            b0 = 0.99886 * b0 + white * 0.0555179;
            b1 = 0.99332 * b1 + white * 0.0750759;
            b2 = 0.96900 * b2 + white * 0.1538520;
            b3 = 0.86650 * b3 + white * 0.3104856;
            b4 = 0.55000 * b4 + white * 0.5329522;
            b5 = -0.7616 * b5 - white * 0.0168980;
            samples[n] = (float)(b0 + b1 + b2 + b3 + b4 + b5 + b6 + white * 0.5362);
            b6 = white * 0.115926;
            sum += (double)samples[n] * samples[n];
        }

        float gain = (float)(0.1 / Math.Sqrt(sum / samples.Length));
        for (int n = 0; n < samples.Length; n++)
        {
            samples[n] *= gain;
        }

        return samples;
    }
}
