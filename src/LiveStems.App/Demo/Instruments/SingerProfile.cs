namespace LiveStems.App.Demo.Instruments;

/// <summary>Who sings.</summary>
/// <param name="TractScale">Formants against those of an alto: 0.85 for a man, 1.05 for a soprano.</param>
/// <param name="Effort">0 breathy to 1 pressed.</param>
/// <param name="Breath">Noise in the voice, 0 to 1.</param>
/// <param name="VibratoHertz">Rate of the vibrato.</param>
/// <param name="VibratoCents">Depth of the vibrato once it has grown.</param>
/// <param name="DetuneCents">Steady pitch error.</param>
/// <param name="ConsonantDb">Level of noise in consonants; 0 is a voice that sits well.</param>
/// <param name="SibilanceDb">What s, z, sh and t have too much.</param>
/// <param name="Seed">The voice's own irregularities.</param>
internal sealed record SingerProfile(
    double TractScale,
    double Effort,
    double Breath,
    double VibratoHertz,
    double VibratoCents,
    double DetuneCents,
    double ConsonantDb,
    double SibilanceDb,
    uint Seed);
