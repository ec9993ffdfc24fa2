using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>
/// A snare drum: modes of a circular membrane and its shell, a stick, and wires that answer a little later.
/// </summary>
/// <param name="Hertz">Pitch of the lowest mode.</param>
/// <param name="Impact">Loudness of stick and head in the first milliseconds, 1 is a healthy drum.</param>
/// <param name="Wires">Loudness of the wires.</param>
/// <param name="WireDecayMs">Time to −60 dB of the wires.</param>
internal sealed record SnareDrum(double Hertz, double Impact, double Wires, double WireDecayMs)
{
    // Ratios of the ideal circular membrane: N. Fletcher, T. Rossing, "The Physics of Musical Instruments", table 3.1;
    // the lowest is loaded by the air between the heads and sits apart.
    private static readonly (double Ratio, double Amplitude, double Decay)[] Head =
    [
        (1, 1, 0.34), (1.72, 0.62, 0.24), (2.14, 0.36, 0.17), (2.30, 0.3, 0.15), (2.65, 0.24, 0.12),
        (2.92, 0.2, 0.11), (3.5, 0.16, 0.09), (4.06, 0.12, 0.08),
    ];

    public void Hit(Span<float> output, int sampleRate, double velocity, uint seed)
    {
        var random = new Noise(seed);
        Span<Mode> modes = stackalloc Mode[Head.Length];
        for (int i = 0; i < Head.Length; i++)
        {
            // Where the stick lands changes from hit to hit, and with it what each mode gets.
            double share = i == 0 ? 1 : random.Between(0.6, 1.3) * Math.Pow(velocity, 0.5);
            double hertz = Hertz * Head[i].Ratio * (1 + 0.012 * velocity);
            modes[i] = new Mode(hertz, 0.42 * velocity * share * Head[i].Amplitude, Head[i].Decay, 0);
        }

        ModalBank.AddTo(output, modes, sampleRate, 0.3 + 0.7 * Impact);
        double stick = Impact * Math.Pow(velocity, 1.4);
        Strike.AddNoise(output, sampleRate, seed + 1, Biquad.BandPass(1400, 0.6, sampleRate), 1.5 * stick, 0.1, 22);
        Strike.AddNoise(output, sampleRate, seed + 2, Biquad.BandPass(4200, 0.5, sampleRate), 0.9 * stick, 0.05, 14);
        double rise = 1.2 + 14 * Math.Max(0, 1 - Impact);
        double wires = Wires * Math.Pow(velocity, 0.85);
        Strike.AddNoise(output, sampleRate, seed + 3, Biquad.BandPass(5200, 0.45, sampleRate), 0.75 * wires, rise, WireDecayMs);
        Strike.AddNoise(output, sampleRate, seed + 4, Biquad.BandPass(2100, 0.7, sampleRate), 0.5 * wires, rise, 0.7 * WireDecayMs);
    }

    /// <summary>Stick laid across the rim: wood, no wires.</summary>
    public static void CrossStick(Span<float> output, int sampleRate, double velocity, uint seed)
    {
        var random = new Noise(seed);
        double loose = random.Between(0.985, 1.015);
        ReadOnlySpan<Mode> modes =
        [
            new(410 * loose, 0.25 * velocity, 0.09, 0), new(940 * loose, 0.5 * velocity, 0.07, 0),
            new(1730 * loose, 0.42 * velocity, 0.06, 0), new(2640 * loose, 0.3 * velocity, 0.05, 0),
            new(3870 * loose, 0.15 * velocity, 0.04, 0),
        ];
        ModalBank.AddTo(output, modes, sampleRate);
        Strike.AddNoise(output, sampleRate, seed, Biquad.BandPass(3000, 0.5, sampleRate), 0.5 * velocity, 0.05, 9);
    }
}
