using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;
using LiveStems.Dsp;

namespace LiveStems.App.Demo.Instruments;

/// <summary>Sounds of a harbour at night: waves, a fog horn, a bell on a buoy; and a riser to lead from one section to the next.</summary>
internal static class Harbour
{
    // Partials of a church bell against its strike note: hum, prime, tierce, quint, nominal and above (Fletcher and
    // Rossing, "The Physics of Musical Instruments", table 21.1, from memory).
    private static readonly (double Ratio, double Level, double Decay)[] Bell =
    [
        (0.5, 0.5, 5), (1, 0.6, 3.4), (1.2, 0.5, 2.8), (1.5, 0.3, 2.0), (2, 0.6, 1.9), (2.5, 0.25, 1.2), (3, 0.3, 0.9), (4.2, 0.2, 0.6),
    ];

    /// <summary>Two waves that break from left to right.</summary>
    public static void AddSea(StereoTrack track, double start, double end, uint seed)
    {
        var left = new Noise(seed);
        var right = new Noise(seed + 1);
        Biquad low = Biquad.LowPass(900, 0.6, track.SampleRate);
        Biquad lowRight = low;
        Biquad high = Biquad.HighPass(160, 0.7, track.SampleRate);
        Biquad highRight = high;
        int first = (int)(start * track.SampleRate);
        int count = Math.Min(track.Frames, (int)(end * track.SampleRate)) - first;
        for (int i = 0; i < count; i++)
        {
            double place = (double)i / count;
            double wave = Math.Sin(Math.PI * place) * (0.35 + 0.65 * Math.Pow(0.5 - 0.5 * SineTable.Turn(2 * place + 0.25), 2));
            double turn = 0.2 * SineTable.Turn(place);
            track.Left[first + i] += (float)((0.5 - turn) * wave * high.Next(low.Next(left.Next())));
            track.Right[first + i] += (float)((0.5 + turn) * wave * highRight.Next(lowRight.Next(right.Next())));
        }
    }

    /// <summary>A horn across the water: two reeds a little apart, driven hard, far away.</summary>
    public static void AddHorn(StereoTrack track, double start, double seconds, double key, double pan)
    {
        float[] horn = new float[track.Frames];
        Span<float> output = Strike.From(horn, start, track.SampleRate);
        int frames = Math.Min(output.Length, (int)(seconds * track.SampleRate));
        float[] wave = WaveTable.Saw.For(Pitch.Frequency(key) * 1.1, track.SampleRate);
        double[] phases = [0, 0.4];
        for (int i = 0; i < frames; i++)
        {
            double time = (double)i / track.SampleRate;
            double level = Math.Min(1, Math.Min(time / 0.25, (seconds - time) / 0.5));
            double pitch = Pitch.Frequency(key) * (1 - 0.03 * Math.Exp(-time / 0.12)) / track.SampleRate;
            for (int reed = 0; reed < phases.Length; reed++)
            {
                phases[reed] += pitch * (1 + 0.006 * reed);
                phases[reed] -= Math.Floor(phases[reed]);
                output[i] += (float)(0.25 * level * level * WaveTable.At(wave, phases[reed]));
            }
        }

        Biquad.Process(Biquad.LowPass(420, 1.1, track.SampleRate), output[..Math.Min(output.Length, frames + 4000)]);
        Biquad.Process(Biquad.LowPass(900, 0.7, track.SampleRate), output[..Math.Min(output.Length, frames + 4000)]);
        track.Add(horn, 0, pan);
    }

    public static void AddBuoy(StereoTrack track, double start, double key, double pan)
    {
        float[] bell = new float[track.Frames];
        Mode[] modes = [.. Bell.Select(part => new Mode(Pitch.Frequency(key) * part.Ratio, 0.12 * part.Level, part.Decay, 0))];
        ModalBank.AddTo(Strike.From(bell, start, track.SampleRate), modes, track.SampleRate);
        track.Add(bell, 0, pan);
    }

    /// <summary>Noise that climbs until the next section begins.</summary>
    public static void AddRiser(StereoTrack track, double start, double end, uint seed)
    {
        const int Interval = 64;
        var noise = new Noise(seed);
        Biquad left = default;
        Biquad right = default;
        int first = (int)(start * track.SampleRate);
        int last = Math.Min(track.Frames, (int)(end * track.SampleRate));
        for (int at = first; at < last; at++)
        {
            double place = (double)(at - first) / (last - first);
            if ((at - first) % Interval == 0)
            {
                left.Retune(Biquad.BandPass(400 * Math.Pow(16, place), 1.2, track.SampleRate));
                right.Retune(Biquad.BandPass(430 * Math.Pow(16, place), 1.2, track.SampleRate));
            }

            double fade = Math.Min(1, (last - at) / (0.01 * track.SampleRate));
            double level = 0.7 * place * place * fade * Decibels.ToAmplitude(-6);
            track.Left[at] += (float)(level * left.Next(noise.Next()));
            track.Right[at] += (float)(level * right.Next(noise.Next()));
        }
    }
}
