using LiveStems.Analysis.Intake;
using LiveStems.Files.Writing;
using LiveStems.Tests.Signals;

namespace LiveStems.Tests.Analysis.Intake;

/// <summary>A delivery of four stereo stems of noise over tones, with their sum as rough mix, that tests spoil.</summary>
internal sealed class Delivery : IDisposable
{
    public const int Rate = 48_000;
    public static readonly string[] Names = ["Drums", "Bass", "Keys", "Voice"];

    private readonly string folder = Directory.CreateTempSubdirectory("livestems intake ").FullName;

    public Delivery(int seconds = 12)
    {
        Stems = [.. Enumerable.Range(0, Names.Length).Select(stem => Stem(seconds * Rate, stem))];
        Mix = [new float[seconds * Rate], new float[seconds * Rate]];
        foreach (float[][] stem in Stems)
        {
            for (int side = 0; side < 2; side++)
            {
                for (int n = 0; n < Mix[0].Length; n++)
                {
                    Mix[side][n] += 0.8f * stem[side][n];
                }
            }
        }
    }

    /// <summary>Left and right of each stem; spoil them before the check.</summary>
    public float[][][] Stems { get; }

    /// <summary>The rough mix, 0.8 of the sum as it was; null for none.</summary>
    public float[][]? Mix { get; set; }

    public int Bits { get; set; } = 24;

    /// <summary>A stem's sound moved by frames; silence comes in.</summary>
    public static float[][] Late(float[][] channels, int frames) =>
        [.. channels.Select(channel => Enumerable.Range(0, channel.Length).Select(n => n - frames >= 0 && n - frames < channel.Length ? channel[n - frames] : 0).ToArray())];

    public static float[][] Scaled(float[][] channels, float left, float right) =>
        [[.. channels[0].Select(sample => left * sample)], [.. channels[1].Select(sample => right * sample)]];

    public IntakeReport Check()
    {
        List<IntakeFile> files = [];
        for (int stem = 0; stem < Stems.Length; stem++)
        {
            files.Add(new IntakeFile(Names[stem], Write(Names[stem], Stems[stem]), false));
        }

        if (Mix is not null)
        {
            files.Add(new IntakeFile("Rough mix", Write("Rough mix", Mix), true));
        }

        return IntakeCheck.Run([new IntakeSong("Song", files)], null, CancellationToken.None);
    }

    public void Dispose() => Directory.Delete(folder, true);

    private string Write(string name, float[][] channels)
    {
        string path = Path.Combine(folder, name + ".wav");
        using WavWriter writer = new(path, new WavFormat(Rate, Bits));
        writer.Write(channels[0], channels[1]);
        writer.Complete();
        return path;
    }

    // Both sides share half of their sound; a fade at both ends keeps them whole.
    private static float[][] Stem(int frames, int seed)
    {
        float[] middle = Noise.White(frames, 10 * seed + 1, 0.1f);
        float[] left = Noise.White(frames, 10 * seed + 2, 0.05f), right = Noise.White(frames, 10 * seed + 3, 0.05f);
        for (int n = 0; n < frames; n++)
        {
            float fade = Math.Min(1, Math.Min(n, frames - 1 - n) / (0.2f * Rate));
            float tone = 0.05f * MathF.Sin(0.01f * (seed + 1) * n);
            left[n] = fade * (left[n] + middle[n] + tone);
            right[n] = fade * (right[n] + middle[n] + tone);
        }

        return [left, right];
    }
}
