using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

internal sealed partial class RopeAndRain
{
    private const int LowestCleanKey = 63;

    private const string CounterLine = """
        Eb5 2 | D5 2 | D5 2 | C5 2 | C5 2 | D5 1 | F5 1 | G5 4
        """;

    private const string VerseText = """
        G4 1 Rope roUp | F4 1/3 and {n | Eb4 1 rain reIn | - 1/3 | Eb4 1/3 on Qn | F4 1/3 the D@ | G4 2/3 har- hA |
        F4 1/3 bour b@ | D4 2 wall wOl | - 5/3 |
        - 2/3 | C4 1/3 you ju | Eb4 2/3 left lEft | Eb4 1/3 your jO | Ab4 1 coat koUt | G4 2/3 on Qn | F4 1/3 the D@ |
        Eb4 2 stair stE | D4 1 _ _ | - 1 |
        - 2/3 | Bb3 1/3 I aI | C4 2/3 have h{v | Eb4 4/3 noth- nVT | D4 1/3 ing IN | C4 2/3 to tu |
        D4 1 say seI | C4 1/3 at {t | Bb3 5/3 all Ol | - 1 |
        - 1/3 | C4 1/3 to tu | C4 1/3 the D@ | Eb4 1 wea- wE | C4 2/3 ther D@ | - 1/3 | Eb4 1/3 to tu | F4 2/3 the DI |
        Ab4 1 emp- Em | G4 2/3 ty tI | F4 4/3 chair tSE | - 1
        """;

    private const string ChorusText = """
        C5 4/3 Hold hoUld | Bb4 2/3 on Qn | D5 4/3 hold hoUld | C5 2/3 on Qn |
        Bb4 2/3 to tu | Bb4 1/3 the D@ | G4 2 line laIn | - 1/3 | Eb4 1/3 let lEt | F4 1/3 it It |
        Ab4 1 run rVn | Ab4 1/3 let lEt | Bb4 2/3 it It | C5 1 burn b3n | Bb4 1/3 through Tru | Ab4 2/3 your jO |
        G4 2 hand h{nd | - 2
        """;

    private const string HarmonyText = """
        Ab4 4/3 What wQt | F4 2/3 was wQz | Bb4 4/3 yours jOz | Ab4 2/3 was wQz |
        G4 2/3 his- hIs | G4 1/3 to- t@ | D4 1 ry rI | Eb4 1 _ _ | - 1 |
        F4 1 marks mAks | F4 1/3 on Qn | F4 2/3 the D@ | Ab4 1 sand s{nd | F4 1/3 and {n | F4 2/3 on Qn |
        Eb4 2 stone stoUn | - 2
        """;

    private const string BridgeText = """
        G4 2 Rain reIn | Eb4 2 rain reIn |
        - 1/3 | C4 2/3 it It | Eb4 1 writes raIts | C4 2/3 on Qn | Eb4 4/3 slate sleIt |
        G4 2 rain reIn | C5 2 rain reIn |
        Bb4 2 stay steI | Ab4 1 _ _ | - 1
        """;

    private const string LastChorusText = """
        C5 4/3 What wQt | Bb4 2/3 was wQz | D5 4/3 yours jOz | C5 2/3 was wQz |
        Bb4 2/3 his- hIs | Bb4 1/3 to- t@ | G4 2 ry rI | - 1/3 | Eb4 1/3 now naU | F4 1/3 it Its |
        Ab4 1 marks mAks | Ab4 1/3 on Qn | Bb4 2/3 the D@ | C5 1 sand s{nd | Bb4 1/3 and {n | Ab4 2/3 on Qn |
        G4 2 stone stoUn | - 2
        """;

    private const string OutroText = """
        - 2 | Eb4 1 Rope roUp | F4 1 and {n |
        G4 3 rain reIn | - 1
        """;

    private Groove LeadSinger => new(Form, 1, 0.5, 18, 9, Seed + 71);

    private List<SungNote> LeadLine() =>
    [
        .. SungLine.Parse(Form["Verse"].FirstBar * 4, VerseText),
        .. SungLine.Parse(Form["Chorus 1"].FirstBar * 4, ChorusText),
        .. SungLine.Parse(Form["Bridge"].FirstBar * 4, BridgeText),
        .. SungLine.Parse(Form["Chorus 2"].FirstBar * 4, LastChorusText),
        .. SungLine.Parse(Form["Outro"].FirstBar * 4, OutroText),
    ];

    private StereoTrack LeadVoice()
    {
        List<SungNote> line = LeadLine();
        var ilva = new SingerProfile(1.0, 0.5, 1.2, 5.1, 38, 0, -2, 8.5, Seed + 72);
        float[] voice = Singer.Sing(line, LeadSinger, ilva, Force, Frames, SampleRate);
        Func<double, double> low = LowNotes(line, LeadSinger, LowestCleanKey);
        SweepFilter.AddBand(voice, SampleRate, 250, 1.6, seconds => 4.0 * low(seconds));
        return VoiceChannel.Mix(voice, SampleRate, 0.278, -13, new RoomSettings(2.4, 0.8, 30, 5500, 250), -12);
    }

    private StereoTrack BackingVoices()
    {
        var chords = new ChordPart(Form, 3, 58, 74);
        SungNote[] Part(int voice) =>
        [
            .. chords.Voice("Chorus 1", voice, "u"),
            .. chords.Voice("Bridge", voice, "u"),
            .. chords.Voice("Chorus 2", voice, "A"),
            .. chords.Voice("Outro", voice, "m@"),
        ];
        List<SungNote> harmony = SungLine.Parse(4 * Form["Chorus 2"].FirstBar, HarmonyText);
        StereoTrack track = Choir(
            (harmony, new SingerProfile(0.9, 0.4, 1.0, 5.0, 22, 4, -12, 0, Seed + 87), -0.25),
            (Part(0), new SingerProfile(0.88, 0.45, 2.0, 4.9, 16, -5, -14, 0, Seed + 81), -0.6),
            (Part(0), new SingerProfile(0.92, 0.45, 2.0, 5.3, 16, 5, -14, 0, Seed + 82), 0.6),
            (Part(1), new SingerProfile(1.0, 0.45, 2.0, 5.2, 18, 3, -14, 0, Seed + 83), 0.85),
            (Part(1), new SingerProfile(0.95, 0.45, 2.0, 5.6, 18, -6, -14, 0, Seed + 84), -0.85),
            (Part(2), new SingerProfile(1.04, 0.45, 2.0, 5.5, 20, 4, -14, 0, Seed + 85), -0.3),
            (Part(2), new SingerProfile(1.01, 0.45, 2.0, 5.1, 20, -3, -14, 0, Seed + 86), 0.3));
        track.Filter(Biquad.HighPass(150, 0.7, SampleRate), Biquad.HighShelf(5000, 3, SampleRate)).Compress(-26, 2.2, 15, 200, 2);
        return track.AddRoom(new RoomSettings(2.6, 0.9, 24, 5200, 220), -8);
    }
}
