using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>A partial of the hats that rings on by itself and does not belong.</summary>
/// <param name="Hertz">Its frequency; a second one close by makes it beat.</param>
/// <param name="DecaySeconds">Time to −60 dB.</param>
internal readonly record struct HatRing(double Hertz, double DecaySeconds);

/// <summary>A pair of hats: closed, half-open, open and pedal, four strokes of each in turn.</summary>
internal sealed class HiHat
{
    private const int Turns = 4;
    private readonly float[][] closed;
    private readonly float[][] half;
    private readonly float[][] open;
    private readonly float[][] pedal;
    private readonly float[] ring;
    private readonly int sampleRate;
    private int turn;

    public HiHat(int sampleRate, uint seed, in HatRing ringing)
    {
        this.sampleRate = sampleRate;
        closed = Strokes(new CymbalSettings(900, 7200, 96, 0.11, 0.1, 1.1), seed);
        half = Strokes(new CymbalSettings(700, 6600, 120, 0.34, 1.0, 1.0), seed);
        open = Strokes(new CymbalSettings(600, 6200, 140, 0.85, 2.5, 0.8), seed);
        pedal = Strokes(new CymbalSettings(700, 5200, 72, 0.09, 1.5, 0.7), seed);
        ring = new float[(int)(1.2 * ringing.DecaySeconds * sampleRate)];
        ReadOnlySpan<Mode> modes =
        [
            new(ringing.Hertz, 0.6, ringing.DecaySeconds, 0), new(ringing.Hertz + 9, 0.25, 0.8 * ringing.DecaySeconds, 0.2),
            new(ringing.Hertz - 14, 0.15, 0.6 * ringing.DecaySeconds, 0.6),
        ];
        ModalBank.AddTo(ring, modes, sampleRate);
    }

    /// <summary>Plays one stroke: 'o' open, 'h' half-open, 'p' pedal, anything else closed.</summary>
    /// <param name="track">The track from its start.</param>
    /// <param name="seconds">When.</param>
    /// <param name="velocity">How hard, 0 to 1.</param>
    /// <param name="mark">What is played.</param>
    /// <param name="ringing">Loudness of the ringing partial.</param>
    /// <param name="choked">When the next stroke closes the hats, in seconds.</param>
    public void Hit(float[] track, double seconds, double velocity, char mark, double ringing, double choked)
    {
        float[][] strokes = mark switch
        {
            'o' => open,
            'h' => half,
            'p' => pedal,
            _ => closed,
        };
        float[] stroke = strokes[turn++ % Turns];
        Span<float> place = Strike.From(track, seconds, sampleRate);
        int frames = Math.Min(place.Length, stroke.Length);
        double level = (mark == 'p' ? 0.35 : 0.55) * Math.Pow(velocity, 1.3);
        int choke = (int)((choked - seconds) * sampleRate);
        int whole = Math.Min(frames, Math.Max(choke, 0));
        Samples.AddScaled(place, stroke.AsSpan(0, whole), (float)level);
        double keep = Math.Exp(-1 / (0.008 * sampleRate));
        for (int i = whole; i < Math.Min(frames, whole + sampleRate / 12); i++)
        {
            level *= keep;
            place[i] += (float)level * stroke[i];
        }

        if (ringing > 0)
        {
            Samples.AddScaled(place, ring.AsSpan(0, Math.Min(place.Length, ring.Length)), (float)(ringing * velocity));
        }
    }

    // Strokes of one pair share most modes: the seed is the same but for the noise of the stick.
    private float[][] Strokes(CymbalSettings settings, uint seed) =>
        [.. Enumerable.Range(0, Turns).Select(i => Cymbal.Stroke(settings, sampleRate, seed + (uint)i * 101))];
}
