using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

internal sealed partial class TheNightDredger
{
    private const string FirstVerseText = """
        - .5 | E4 .5 Down daUn | E4 .5 be- bI | G4 1 low loU | E4 .5 the D@ | A4 .5 break- breIk | G4 .5 wa- wO |
        E4 1.5 ter t@ | - 2.5 |
        - .5 | E4 .5 some- sVm | E4 .5 thing TIN | A4 1 turn- t3n | G4 .5 ing IN | F#4 .5 in In | E4 .5 the D@ |
        C#4 1.5 mud mVd | - 2.5 |
        - .5 | B3 .5 black bl{k | D4 .5 ma- m@ | E4 1 chine Sin | G4 .5 and {n | A4 .5 white waIt | G4 .5 wa- wO |
        E4 1.5 ter t@ | - 2.5 |
        - .5 | G4 .5 thump- TVmp | G4 .5 ing IN | E4 1 like laIk | G4 .5 a @ | A4 .5 sec- sEk | G4 .5 ond @nd |
        A4 2 blood blVd | - 2
        """;

    private const string SecondVerseText = """
        - .5 | E4 .5 Chain tSeIn | E4 .5 by baI | G4 1 chain tSeIn | E4 .5 and {n | A4 .5 buck- bVk | G4 .5 et It |
        E4 1.5 full fUl | - 2.5 |
        - .5 | E4 .5 noth- nVT | E4 .5 ing IN | A4 1 sinks sINks | G4 .5 as {z | F#4 .5 deep dip | E4 .5 as {z |
        C#4 1.5 this DIs | - 2.5 |
        - .5 | B3 .5 rust- rVs | D4 .5 y tI | E4 1 bolts boUlts | G4 .5 and {n | A4 .5 keys kiz | G4 .5 and {n |
        E4 1.5 spoons spunz | - 2.5 |
        - .5 | G4 .5 eve- iv | G4 .5 ry rI | E4 1 thing TIN | G4 .5 the D@ | A4 .5 sea si | G4 .5 would wUd |
        A4 2 miss mIs | - 2
        """;

    private const string ChorusText = """
        E5 .5 Dig dIg | D5 .5 it It | B4 1 out aUt | E5 .5 dig dIg | D5 .5 it It | B4 1 out aUt |
        A4 .5 all Ol | A4 .5 that D{t | B4 .5 we wi | A4 .5 have h{v | D5 1.5 thrown TroUn | - .5 |
        B4 .5 i- aI | A4 .5 ron @n | G4 1 shell SEl | A4 .5 and {nd | B4 1.5 bone boUn |
        - 4 |
        E5 .5 Turn t3n | D5 .5 it It | B4 1 up Vp | E5 .5 turn t3n | D5 .5 it It | B4 1 up Vp |
        A4 .5 let lEt | A4 .5 the D@ | B4 .5 ri- rI | A4 .5 ver v@ | D5 1.5 see si | - .5 |
        B4 .5 what wQt | A4 .5 is Iz | G4 1 left lEft | F#4 .5 of Qv | E4 1.5 me mi |
        - 4
        """;

    // Under the hook, and the answer while the lead breathes.
    private const string GangText = """
        C5 .5 Dig dIg | B4 .5 it It | G4 1 out aUt | C5 .5 dig dIg | B4 .5 it It | G4 1 out aUt |
        - 8 |
        B4 .5 dig dIg | A4 .5 it It | B4 1 out aUt | - 2 |
        C5 .5 Turn t3n | B4 .5 it It | G4 1 up Vp | C5 .5 turn t3n | B4 .5 it It | G4 1 up Vp |
        - 8 |
        B4 .5 dig dIg | A4 .5 it It | B4 1 out aUt | - 2
        """;

    private const string BridgeText = """
        E5 3 Night naIt | - 1 |
        D5 3 night naIt | - 1 |
        E5 2 night naIt | G5 2 _ _ |
        F#5 2 oh oU | D#5 2 _ _
        """;

    private Groove LeadSinger => new(Form, 0.5, 0.515, 8, 5, Seed + 71);

    private List<SungNote> LeadLine() =>
    [
        .. SungLine.Parse(Form["Verse 1"].FirstBar * 4, FirstVerseText),
        .. SungLine.Parse(Form["Chorus 1"].FirstBar * 4, ChorusText),
        .. SungLine.Parse(Form["Verse 2"].FirstBar * 4, SecondVerseText),
        .. SungLine.Parse(Form["Bridge"].FirstBar * 4, BridgeText),
        .. SungLine.Parse(Form["Chorus 2"].FirstBar * 4, ChorusText),
    ];

    private StereoTrack LeadVoice()
    {
        var ilva = new SingerProfile(1.0, 0.68, 0.5, 5.7, 28, 0, -4, 8.5, Seed + 72);
        float[] voice = Singer.Sing(LeadLine(), LeadSinger, ilva, Force, Frames, SampleRate);
        Dirt.Add(voice, SampleRate, 21, 42, -37, _ => 1, Seed + 73);
        return VoiceChannel.Mix(voice, SampleRate, 0.227, -12, new RoomSettings(1.1, 0.45, 18, 6500, 280), -16);
    }

    private StereoTrack BackingVoices()
    {
        var chords = new ChordPart(Form, 3, 59, 74);
        SungNote[] Part(int voice) =>
        [
            .. chords.Voice("Chorus 1", voice, "oU"),
            .. chords.Voice("Bridge", voice, "A"),
            .. chords.Voice("Chorus 2", voice, "oU"),
            .. chords.Voice("Outro", voice, "A"),
        ];
        List<SungNote> gang =
        [
            .. SungLine.Parse(4 * Form["Chorus 1"].FirstBar, GangText),
            .. SungLine.Parse(4 * Form["Chorus 2"].FirstBar, GangText),
        ];
        StereoTrack track = Choir(
            (gang, new SingerProfile(0.88, 0.75, 0.6, 5.1, 10, -8, -9, 0, Seed + 87), -0.6),
            (gang, new SingerProfile(0.92, 0.75, 0.6, 5.3, 10, 7, -9, 0, Seed + 88), 0.6),
            (gang, new SingerProfile(1.01, 0.75, 0.6, 5.6, 10, 2, -9, 0, Seed + 89), 0.1),
            (Part(0), new SingerProfile(0.86, 0.62, 1.4, 5.0, 14, -6, -12, 0, Seed + 81), -0.8),
            (Part(0), new SingerProfile(0.9, 0.62, 1.4, 5.4, 14, 5, -12, 0, Seed + 82), 0.8),
            (Part(1), new SingerProfile(0.88, 0.62, 1.4, 5.2, 16, 4, -12, 0, Seed + 83), 0.4),
            (Part(1), new SingerProfile(1.0, 0.62, 1.4, 5.6, 16, -7, -12, 0, Seed + 84), -0.4),
            (Part(2), new SingerProfile(1.03, 0.62, 1.4, 5.5, 18, 3, -12, 0, Seed + 85), -0.95),
            (Part(2), new SingerProfile(1.0, 0.62, 1.4, 5.1, 18, -4, -12, 0, Seed + 86), 0.95));
        track.Filter(Biquad.HighPass(180, 0.7, SampleRate)).Compress(-24, 3, 10, 140, 2);
        return track.AddRoom(new RoomSettings(1.3, 0.5, 16, 6000, 250), -12);
    }
}
