using LiveStems.Albums.Model;
using LiveStems.App.Demo;

namespace LiveStems.Bench.Planted;

/// <summary>A sound that resonances are planted in.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Role">What it plays.</param>
/// <param name="SampleRate">Frames per second.</param>
/// <param name="Sound">Its channels.</param>
/// <param name="Faults">What is wrong with it by the demo's notes.</param>
internal sealed record PlantedMaterial(string Name, StemRole Role, int SampleRate, float[][] Sound, IReadOnlyList<DemoFault> Faults)
{
    private PlantedSpectrum? spectrum;

    /// <summary>What is measured of the sound as it is.</summary>
    public PlantedSpectrum Spectrum => spectrum ??= new PlantedSpectrum(Sound, SampleRate);

    public double Seconds => (double)Sound[0].Length / SampleRate;

    /// <summary>Pink noise of −20 dBFS RMS, each channel its own.</summary>
    public static PlantedMaterial Pink(double seconds, Random random) =>
        new("pink noise", StemRole.Other, 48_000, [PinkChannel(seconds, random), PinkChannel(seconds, random)], []);

    /// <summary>All stems of the demo album.</summary>
    public static IEnumerable<PlantedMaterial> DemoStems() => DemoAlbum.Songs.SelectMany(song => song.Stems.Select(stem =>
        new PlantedMaterial(
            $"{song.Title}/{stem.Name}", stem.Role, song.SampleRate, stem.Render(), [.. song.Faults.Where(fault => fault.Stem == stem.Name)])));

    /// <summary>Lets go of what was measured.</summary>
    public void Forget() => spectrum = null;

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
