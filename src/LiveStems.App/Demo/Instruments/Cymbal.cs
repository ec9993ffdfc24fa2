using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>What a cymbal is like and how it is struck.</summary>
/// <param name="LowHertz">Lowest mode.</param>
/// <param name="PeakHertz">Where the modes are loudest.</param>
/// <param name="Modes">Their number: a plate has the same number of modes in every hertz.</param>
/// <param name="DecaySeconds">Time to −60 dB at the loudest modes.</param>
/// <param name="WashMs">Time the energy takes to reach the high modes.</param>
/// <param name="Wash">Noise beside the modes, for those too dense to count.</param>
internal readonly record struct CymbalSettings(
    double LowHertz, double PeakHertz, int Modes, double DecaySeconds, double WashMs, double Wash);

/// <summary>Renders single strokes of cymbals and hats, to be played many times.</summary>
internal static class Cymbal
{
    public static float[] Stroke(in CymbalSettings settings, int sampleRate, uint seed)
    {
        float[] stroke = new float[(int)(1.2 * settings.DecaySeconds * sampleRate) + 256];
        ModalBank.AddTo(stroke, Plate(settings, seed), sampleRate);
        double fallMs = 700 * settings.DecaySeconds;
        Biquad wash = Biquad.BandPass(1.25 * settings.PeakHertz, 0.5, sampleRate);
        Strike.AddNoise(stroke, sampleRate, seed + 1, wash, settings.Wash, settings.WashMs, fallMs);
        Strike.AddNoise(stroke, sampleRate, seed + 2, Biquad.BandPass(5500, 0.4, sampleRate), 0.8, 0.05, 10);
        Biquad.Process(Biquad.HighPass(0.9 * settings.LowHertz, 0.7, sampleRate), stroke);
        FadeEnds(stroke, sampleRate);
        Samples.Scale(stroke, 1 / Samples.Peak(stroke));
        return stroke;
    }

    private static Mode[] Plate(in CymbalSettings settings, uint seed)
    {
        var random = new Noise(seed);
        var modes = new Mode[settings.Modes];
        const double Top = 15000;
        double spacing = (Top - settings.LowHertz) / settings.Modes;
        for (int i = 0; i < modes.Length; i++)
        {
            double hertz = settings.LowHertz + spacing * (i + random.Between(0, 1));
            double octaves = Math.Log2(hertz / settings.PeakHertz);
            double trend = Math.Exp(-octaves * octaves * (octaves < 0 ? 0.28 : 0.8));
            double decay = settings.DecaySeconds * Math.Pow(hertz / settings.PeakHertz, -0.45) * random.Between(0.6, 1.2);
            double amplitude = trend * random.Between(0.15, 1) / Math.Sqrt(settings.Modes);
            modes[i] = new Mode(hertz, amplitude, Math.Min(decay, 1.6 * settings.DecaySeconds), random.Between(0, 1));
        }

        return modes;
    }

    private static void FadeEnds(float[] stroke, int sampleRate)
    {
        int fadeIn = sampleRate / 4000;
        for (int i = 0; i < fadeIn; i++)
        {
            stroke[i] *= (float)i / fadeIn;
        }

        int fadeOut = stroke.Length / 5;
        for (int i = 0; i < fadeOut; i++)
        {
            stroke[^(i + 1)] *= (float)i / fadeOut;
        }
    }
}
