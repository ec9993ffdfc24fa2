namespace LiveStems.App.Demo.Instruments;

internal enum SoundKind
{
    Vowel,
    Glide,
    Nasal,
    Fricative,
    Plosive,
}

/// <summary>One sound of speech as a singer forms it.</summary>
/// <param name="Kind">How it is made.</param>
/// <param name="F1">First formant in Hz, of an alto.</param>
/// <param name="F2">Second formant.</param>
/// <param name="F3">Third formant.</param>
/// <param name="Seconds">Usual length; vowels take what is left.</param>
/// <param name="Voicing">Share of voice, 0 to 1.</param>
/// <param name="NoiseHertz">Centre of its noise, 0 for none.</param>
/// <param name="NoiseQ">Narrowness of its noise.</param>
/// <param name="NoiseLevel">Loudness of its noise, 1 for the loudest.</param>
internal readonly record struct Sound(
    SoundKind Kind,
    double F1,
    double F2,
    double F3,
    double Seconds,
    double Voicing,
    double NoiseHertz = 0,
    double NoiseQ = 1,
    double NoiseLevel = 0)
{
    public bool IsVowel => Kind == SoundKind.Vowel;

    public bool IsSibilant => Kind == SoundKind.Fricative && NoiseLevel >= 0.35;
}

/// <summary>
/// Sounds by one letter each, after X-SAMPA. Vowel formants follow the women of G. Peterson, H. Barney, "Control methods
/// used in a study of the vowels", JASA 24, 1952, table II (from memory), a little lower for an alto; consonants point to
/// the usual places of articulation.
/// </summary>
internal static class Phonemes
{
    private static readonly Dictionary<char, Sound> Table = new()
    {
        ['i'] = Vowel(320, 2500, 3100),
        ['I'] = Vowel(430, 2250, 2950),
        ['e'] = Vowel(480, 2250, 2850),
        ['E'] = Vowel(600, 2050, 2850),
        ['{'] = Vowel(820, 1850, 2750),
        ['a'] = Vowel(850, 1400, 2750),
        ['A'] = Vowel(800, 1180, 2750),
        ['Q'] = Vowel(680, 1050, 2700),
        ['O'] = Vowel(580, 900, 2650),
        ['o'] = Vowel(500, 880, 2600),
        ['U'] = Vowel(450, 1120, 2600),
        ['u'] = Vowel(370, 900, 2600),
        ['V'] = Vowel(720, 1350, 2700),
        ['3'] = Vowel(500, 1500, 1950),
        ['@'] = Vowel(540, 1500, 2650),
        ['w'] = new(SoundKind.Glide, 320, 720, 2350, 0.075, 0.75),
        ['j'] = new(SoundKind.Glide, 290, 2400, 3050, 0.065, 0.75),
        ['r'] = new(SoundKind.Glide, 400, 1200, 1650, 0.080, 0.75),
        ['l'] = new(SoundKind.Glide, 380, 1150, 2800, 0.070, 0.7),
        ['m'] = new(SoundKind.Nasal, 270, 1000, 2300, 0.080, 0.6),
        ['n'] = new(SoundKind.Nasal, 270, 1500, 2500, 0.070, 0.6),
        ['N'] = new(SoundKind.Nasal, 270, 1800, 2400, 0.080, 0.6),
        ['s'] = new(SoundKind.Fricative, 350, 1750, 2700, 0.120, 0, 7300, 1.5, 0.55),
        ['z'] = new(SoundKind.Fricative, 320, 1750, 2700, 0.090, 0.4, 7000, 1.5, 0.36),
        ['S'] = new(SoundKind.Fricative, 350, 1850, 2550, 0.120, 0, 3400, 1.2, 0.5),
        ['Z'] = new(SoundKind.Fricative, 320, 1850, 2550, 0.085, 0.4, 3400, 1.2, 0.35),
        ['f'] = new(SoundKind.Fricative, 350, 950, 2400, 0.100, 0, 8500, 0.5, 0.12),
        ['v'] = new(SoundKind.Fricative, 320, 950, 2400, 0.070, 0.55, 7000, 0.5, 0.06),
        ['T'] = new(SoundKind.Fricative, 350, 1400, 2600, 0.090, 0, 9000, 0.6, 0.10),
        ['D'] = new(SoundKind.Fricative, 320, 1400, 2600, 0.055, 0.6, 7000, 0.6, 0.05),
        ['h'] = new(SoundKind.Fricative, 0, 0, 0, 0.080, 0, 0, 1, 0.30),
        ['p'] = new(SoundKind.Plosive, 350, 850, 2300, 0.090, 0, 1100, 0.5, 0.30),
        ['t'] = new(SoundKind.Plosive, 350, 1800, 2700, 0.090, 0, 5600, 0.8, 0.50),
        ['k'] = new(SoundKind.Plosive, 320, 1900, 2450, 0.095, 0, 2100, 1.1, 0.45),
        ['b'] = new(SoundKind.Plosive, 250, 850, 2300, 0.070, 0.22, 900, 0.5, 0.16),
        ['d'] = new(SoundKind.Plosive, 250, 1800, 2700, 0.065, 0.22, 4200, 0.8, 0.22),
        ['g'] = new(SoundKind.Plosive, 250, 1900, 2450, 0.070, 0.22, 1900, 1.0, 0.22),
    };

    public static Sound Of(char letter) => Table[letter];

    private static Sound Vowel(double f1, double f2, double f3) => new(SoundKind.Vowel, f1, f2, f3, 0, 1);
}
