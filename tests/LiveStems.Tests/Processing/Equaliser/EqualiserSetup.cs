using System.Numerics;
using LiveStems.Dsp;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Equaliser;

namespace LiveStems.Tests.Processing.Equaliser;

/// <summary>Equalisers with settings, and what they do to tones.</summary>
internal static class EqualiserSetup
{
    /// <summary>An equaliser whose bands are off but for what is set; band 1 is on and a bell.</summary>
    public static EqualiserProcessor Prepared(int sampleRate, params (string Id, double Value)[] settings)
    {
        EqualiserProcessor equaliser = new();
        Set(equaliser, "band1.shape", 0);
        foreach ((string id, double value) in settings)
        {
            Set(equaliser, id, value);
        }

        equaliser.Prepare(new ProcessingFormat(sampleRate, 8192));
        return equaliser;
    }

    public static void Set(EqualiserProcessor equaliser, string id, double value) =>
        equaliser.SetParameter(equaliser.Description.IndexOf(id), value);

    public static float[] Sine(double frequencyHz, double levelDb, double seconds, double sampleRate = 48_000)
    {
        double amplitude = Decibels.ToAmplitude(levelDb);
        return [.. Enumerable.Range(0, (int)(seconds * sampleRate)).Select(n => (float)(amplitude * Math.Sin(2 * Math.PI * frequencyHz * n / sampleRate)))];
    }

    /// <summary>Sum of two sounds of one length.</summary>
    public static float[] Plus(this float[] a, float[] b) => [.. a.Zip(b, (x, y) => x + y)];

    /// <summary>Level of one frequency in a stretch, as the peak of its sine, dB.</summary>
    public static double LevelDb(ReadOnlySpan<float> sound, double frequencyHz, double sampleRate = 48_000)
    {
        Complex sum = 0;
        double weight = 0;
        for (int n = 0; n < sound.Length; n++)
        {
            double hann = 0.5 - 0.5 * Math.Cos(2 * Math.PI * (n + 0.5) / sound.Length);
            sum += hann * sound[n] * Complex.FromPolarCoordinates(1, -2 * Math.PI * frequencyHz * n / sampleRate);
            weight += hann;
        }

        return Decibels.FromAmplitude(2 * Complex.Abs(sum) / weight);
    }

    /// <summary>The processed left channel of a sound on both.</summary>
    public static float[] Through(EqualiserProcessor equaliser, float[] sound, float[]? key = null)
    {
        float[] left = [.. sound], right = [.. sound];
        key ??= sound;
        for (int start = 0; start < sound.Length; start += 1000)
        {
            int frames = Math.Min(1000, sound.Length - start);
            ReadOnlySpan<float> heard = key.AsSpan(start, frames);
            equaliser.Process(new StereoBlock(left.AsSpan(start, frames), right.AsSpan(start, frames), heard, heard));
        }

        return left;
    }
}
