using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

internal sealed partial class TheNightDredger
{
    private const string Riff = """
        E3 .5 | - .25 | G3 .25 | A3 .5 | G3 .25 | A3 .75 | B3 .5 | A3 .5 | G3 .5 |
        E3 .5 | - .25 | D3 .25 | E3 .75 | - .75 | G3 .5 | A3 .25 | G3 .25 | D3 .5 |
        E3 .5 | - .25 | G3 .25 | A3 .5 | G3 .25 | A3 .75 | B3 .5 | D4 .5 | B3 .5 |
        A3 .5 | G3 .25 | A3 .25 | E3 1.5 | - .5 | D3 .5 | D3 .5
        """;

    private const string Driving = "D.d.D.d.D.d.D.du";

    private const string Solo = """
        E5 1.5 | G5 .5 | E5 .5 | D5 .5 | B4 1 |
        A4 .5 | B4 .5 | D5 1 | F#5 1.5 | E5 .5 |
        E5 1 | B4 .5 | D5 .5 | E5 .5 | G5 .5 | A5 .5 | G5 .5 |
        E5 3 | - 1
        """;

    private StereoTrack GuitarsRhythm()
    {
        float[] left = RhythmTake(Seed + 41, 27, 5000);
        float[] right = RhythmTake(Seed + 43, 25, 5400);
        StereoTrack track = Blank().Add(left, 0, -0.95).Add(right, 0, 0.95);
        SweepFilter.AddBand(track.Left, SampleRate, 3350, 1.3, Glare);
        SweepFilter.AddBand(track.Right, SampleRate, 3550, 1.3, Glare);
        return track.AddRoom(new RoomSettings(0.5, 0.3, 9, 5500, 200), -18);
    }

    private float[] RhythmTake(uint seed, double driveDb, double toneHertz)
    {
        var settings = new StringSettings(4.5, 0.05, 0.26, 0.09, 0.1, 6000, 0.15);
        var player = new Groove(Form, 0.5, 0.515, 0, 3.5, seed);
        IEnumerable<StringNote> part =
        [
            .. GuitarPart.Strum(Form, "Verse 1", Fretboard.PowerShape, "D.m..m.d..m.m.d.", "D.m..m.d..m.d.d."),
            .. GuitarPart.Strum(Form, "Chorus 1", Fretboard.PowerShape, "D...D.d.D.d.D.du"),
            .. GuitarPart.Strum(Form, "Verse 2", Fretboard.PowerShape, "D.m..m.d..m.m.d.", "D.mm.m.d..m.d.du"),
            .. GuitarPart.Strum(Form, "Bridge", Fretboard.PowerShape, "D..............."),
            .. GuitarPart.Strum(Form, "Chorus 2", Fretboard.PowerShape, Driving),
            .. GuitarPart.Strum(Form, "Outro", Fretboard.PowerShape, Driving, Driving, Driving, "D..............."),
        ];
        float[] take = GuitarPlayer.Play(part, player, settings, Frames, SampleRate, seed);
        GuitarAmp.Process(take, SampleRate, driveDb, toneHertz);
        return take;
    }

    private float[] GuitarLead()
    {
        var settings = new StringSettings(6, 0.08, 0.22, 0.12, 0.2, 6000, 0.1);
        var player = new Groove(Form, 0.5, 0.515, 6, 4, Seed + 45);
        IEnumerable<ScoreNote> part =
        [
            .. SungLine.Melody(0, Riff, 0.8),
            .. SungLine.Melody(4 * Form["Verse 1"].FirstBar, Riff, 0.6),
            .. SungLine.Melody(4 * Form["Verse 2"].FirstBar, Riff, 0.65),
            .. SungLine.Melody(4 * Form["Outro"].FirstBar, Solo, 0.95),
        ];
        IEnumerable<StringNote> strings = part.Select(note => GuitarPart.OnString(note));
        float[] take = GuitarPlayer.Play(strings, player, settings, Frames, SampleRate, Seed + 46, hasVibrato: true);
        GuitarAmp.Process(take, SampleRate, 30, 4300);
        return take;
    }

    private StereoTrack OrganPart()
    {
        var chords = new ChordPart(Form, 4, 52, 72);
        var player = new Groove(Form, 0.5, 0.515, 4, 4, Seed + 51);
        IEnumerable<ScoreNote> part =
        [
            .. chords.Rhythm("Verse 1", 0.7, 0.45, "..x...x.....x.x."),
            .. chords.Held("Chorus 1", 0.9),
            .. chords.Rhythm("Verse 2", 0.8, 0.45, "..x...x.....x.x."),
            .. chords.Held("Bridge", 0.9),
            .. chords.Held("Chorus 2", 1),
            .. chords.Held("Outro", 1),
        ];
        return Organ.Play(part, player, Frames, SampleRate).AddRoom(new RoomSettings(0.9, 0.4, 12, 5200, 180), -15);
    }

    private StereoTrack Pad()
    {
        var chords = new ChordPart(Form, 4, 55, 76);
        var player = new Groove(Form, 1, 0.5, 0, 2, Seed + 61);
        IEnumerable<ScoreNote> part = Form.Sections.Where(section => section.Kind != "Verse")
            .SelectMany(section => chords.Held(section.Name, 0.9));
        StereoTrack track = Ensemble.Play(
            part, player, new EnsembleSettings(4, 14, 0.15, 0.9, 0, 0.95), Frames, SampleRate, Seed + 62);
        double bridge = Form.StartOf("Bridge");
        double open = Form.EndOf("Bridge") - bridge;
        track.SweepLowPass(
            seconds => seconds >= bridge && seconds < bridge + open
                ? 500 + 4500 * Math.Pow((seconds - bridge) / open, 2)
                : 900 + 2600 * Math.Pow(Force(seconds), 2),
            1.0);
        track.Filter(Biquad.HighPass(150, 0.7, SampleRate));
        Dirt.Add(track.Left, SampleRate, 16800, 21000, -57, _ => 1, Seed + 63);
        Dirt.Add(track.Right, SampleRate, 16800, 21000, -57, _ => 1, Seed + 64);
        return track.AddRoom(new RoomSettings(1.8, 0.8, 18, 5000, 180), -12);
    }

    private StereoTrack HarbourSounds()
    {
        StereoTrack track = Blank();
        Harbour.AddSea(track, Form.StartOf("Intro"), Form.EndOf("Intro"), Seed + 91);
        Harbour.AddSea(track, Form.StartOf("Bridge"), Form.EndOf("Bridge"), Seed + 92);
        Harbour.AddHorn(track, Form.StartOf("Intro") + 0.1, 2.6, 40, -0.3);
        Harbour.AddHorn(track, Form.SecondsAt(4 * (Form["Outro"].FirstBar + 3)), 3.0, 40, 0.3);
        Harbour.AddBuoy(track, Form.StartOf("Bridge"), 76, 0.5);
        Harbour.AddBuoy(track, Form.SecondsAt(4 * (Form["Bridge"].FirstBar + 2)), 76, 0.5);
        Harbour.AddRiser(track, Form.SecondsAt(4 * (Form["Bridge"].FirstBar + 2)), Form.EndOf("Bridge"), Seed + 93);
        Harbour.AddRiser(track, Form.SecondsAt(4 * (Form["Chorus 1"].FirstBar - 1)), Form.StartOf("Chorus 1"), Seed + 94);
        return track.AddRoom(new RoomSettings(2.8, 1.2, 30, 4500, 60), -8);
    }

    private double Glare(double seconds) => 2.1 * Inside("Chorus 1", "Chorus 2", "Outro")(seconds);
}
