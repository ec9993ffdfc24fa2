using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

internal sealed partial class LampsAlongTheMole
{
    private const int LowestCleanKey = 62;

    private const string VerseText = """
        - .5 | A3 .5 Lamps l{mps | A3 .5 a- @ | C4 1 long lQN | B3 .5 the D@ | C4 1 mole moUl |
        B3 .5 are A | A3 2 low loU | - 1.5 |
        - .5 | C4 .5 and {nd | C4 .5 the D@ | E4 1 tide taId | D4 .5 is Iz | C4 .5 count- kaUnt | A3 .5 ing IN |
        B3 2 down daUn | - 2 |
        - .5 | A3 .5 ev- Ev | B3 .5 ery rI | C4 1 rope roUp | E4 .5 is Iz | D4 .5 pull- pUl | C4 .5 ing IN |
        A3 2.5 slow sloU | - 1.5 |
        - .5 | A3 .5 at {t | A3 .5 the D@ | D4 .75 qui- kwaI | C4 .75 et @t | A3 1 side saId |
        B3 .5 of Qv | A3 1.5 town taUn | G#3 1 _ _ | - 1
        """;

    private const string ChorusText = """
        A4 1 Keep kip | C5 .5 one wVn | A4 1 lamp l{mp | A4 .5 a- @ | C5 .5 bove bVv | C5 .5 the D@ |
        D5 1.5 wa- wO | B4 1.5 ter t@ | - 1 |
        C5 .5 let lEt | C5 .5 it It | A4 1 shi- SI | E4 .5 ver v@ | - .5 | G4 .5 let lEt | A4 .5 it It |
        G4 2.5 stay steI | - 1.5 |
        A4 .5 I aI | A4 .5 have h{v | C5 1 salt sQlt | A4 .5 e- I | C5 1 nough nVf | C5 .5 to tu |
        D5 1 bar- bA | E5 .5 _ _ | D5 1.5 ter t@ | - 1 |
        E5 .5 for fO | D5 .5 an- @ | C5 1 oth- nVD | A4 .5 er @ | G4 1 turn- t3n | A4 .5 ing IN |
        D5 .5 day deI | B4 2 _ _ | - 1.5
        """;

    private const string BridgeText = """
        F4 2 Slow sloU | E4 2 slow sloU |
        - .5 | C4 .5 the D@ | E4 1 bell bEl | D4 .5 is Iz | C4 1.5 slow sloU |
        - 1 | D4 .5 and {nd | D4 .5 the D@ | F4 1 light laIt | D4 1 is Iz |
        E4 2 mine maIn | G#4 1 _ _ | B4 1 _ _
        """;

    // Thirds and fourths under the first and the last line of the chorus.
    private const string HarmonyText = """
        F4 1 Keep kip | A4 .5 one wVn | F4 1 lamp l{mp | F4 .5 a- @ | A4 .5 bove bVv | A4 .5 the D@ |
        B4 1.5 wa- wO | G4 1.5 ter t@ | - 1 |
        - 16 |
        C5 .5 for fO | B4 .5 an- @ | G4 1 oth- nVD | E4 .5 er @ | E4 1 turn- t3n | E4 .5 ing IN |
        G4 2.5 day deI | - 1.5
        """;

    private Groove LeadSinger => new(Form, 0.5, 0.53, 14, 7, Seed + 71);

    private List<SungNote> LeadLine() =>
    [
        .. SungLine.Parse(Form["Verse"].FirstBar * 4, VerseText),
        .. SungLine.Parse(Form["Chorus 1"].FirstBar * 4, ChorusText),
        .. SungLine.Parse(Form["Bridge"].FirstBar * 4, BridgeText),
        .. SungLine.Parse(Form["Chorus 2"].FirstBar * 4, ChorusText),
    ];

    private StereoTrack LeadVoice()
    {
        List<SungNote> line = LeadLine();
        var ilva = new SingerProfile(1.0, 0.62, 0.8, 5.4, 34, 0, -2, 8.5, Seed + 72);
        float[] voice = Singer.Sing(line, LeadSinger, ilva, Force, Frames, SampleRate);
        Func<double, double> low = LowNotes(line, LeadSinger, LowestCleanKey);
        SweepFilter.AddBand(voice, SampleRate, 250, 1.6, seconds => 4.5 * low(seconds));
        Dirt.Add(voice, SampleRate, 21, 42, -35, _ => 1, Seed + 73);
        return VoiceChannel.Mix(voice, SampleRate, 0.288, -12, new RoomSettings(1.6, 0.55, 25, 6000, 250), -15);
    }

    private StereoTrack BackingVoices()
    {
        var chords = new ChordPart(Form, 3, 60, 74);
        SungNote[] Part(int voice, string first, string second) =>
        [
            .. chords.Voice("Chorus 1", voice, first),
            .. chords.Voice("Bridge", voice, "mu"),
            .. chords.Voice("Chorus 2", voice, second),
        ];
        List<SungNote> harmony = SungLine.Parse(4 * Form["Chorus 2"].FirstBar, HarmonyText);
        StereoTrack track = Choir(
            (harmony, new SingerProfile(0.93, 0.55, 0.9, 5.2, 20, -4, -12, 0, Seed + 87), -0.5),
            (harmony, new SingerProfile(1.0, 0.55, 0.9, 5.5, 20, 5, -12, 0, Seed + 88), 0.5),
            (Part(0, "u", "A"), new SingerProfile(0.9, 0.48, 1.8, 5.0, 16, -5, -14, 0, Seed + 81), -0.7),
            (Part(0, "u", "A"), new SingerProfile(0.97, 0.48, 1.8, 5.3, 16, 6, -14, 0, Seed + 82), 0.35),
            (Part(1, "u", "A"), new SingerProfile(1.0, 0.48, 1.8, 5.2, 18, 4, -14, 0, Seed + 83), 0.7),
            (Part(1, "u", "A"), new SingerProfile(0.95, 0.48, 1.8, 5.6, 18, -7, -14, 0, Seed + 84), -0.35),
            (Part(2, "u", "A"), new SingerProfile(1.04, 0.48, 1.8, 5.5, 20, 3, -14, 0, Seed + 85), -0.9),
            (Part(2, "u", "A"), new SingerProfile(1.02, 0.48, 1.8, 5.1, 20, -4, -14, 0, Seed + 86), 0.9));
        track.Filter(Biquad.HighPass(160, 0.7, SampleRate), Biquad.HighShelf(6000, 2, SampleRate)).Compress(-26, 2.5, 15, 180, 2);
        return track.AddRoom(new RoomSettings(1.8, 0.65, 20, 5500, 250), -10);
    }
}
