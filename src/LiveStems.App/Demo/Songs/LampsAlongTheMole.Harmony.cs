using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

internal sealed partial class LampsAlongTheMole
{
    private StereoTrack GuitarClean()
    {
        var settings = new StringSettings(4.5, 0.12, 0.30, 0.13, 0.22, 6500, 0.12);
        var player = new Groove(Form, 0.5, 0.53, 3, 4, Seed + 31);
        IEnumerable<StringNote> part =
        [
            .. GuitarPart.Pick(Form, "Intro", Open, "b..3..2.1..2..3.", "b..3..2.1..3..2."),
            .. GuitarPart.Pick(Form, "Verse", Open, "b..3..2.1..2..3.", "b..3..2.1.2...3."),
            .. GuitarPart.Strum(Form, "Chorus 1", Middle, "d...m.u.d..um.u.", "d...m.u.d.d.m.u."),
            .. GuitarPart.Pick(Form, "Bridge", Open, "b.3.2.1.2.3.2.1."),
            .. GuitarPart.Strum(Form, "Chorus 2", Middle, "d...m.u.d..um.u.", "d...m.u.d.d.m.u."),
            .. GuitarPart.Pick(Form, "Outro", Open, "b..3..2.1..2..3.", "b.3.2.1........."),
        ];
        float[] dry = GuitarPlayer.Play(part, player, settings, Frames, SampleRate, Seed + 32);
        Samples.Scale(dry, 0.5f);
        Saturator.Process(dry, 3, 0.15);
        Biquad.Process(Biquad.HighPass(95, 0.7, SampleRate), dry);
        Biquad.Process(Biquad.Bell(2600, 0.8, 3, SampleRate), dry);
        Biquad.Process(Biquad.LowPass(7200, 0.7, SampleRate), dry);
        StereoTrack track = Chorus.Spread(dry, SampleRate, 1.6, 0.7, 0.55);
        return track.AddRoom(new RoomSettings(1.4, 0.6, 18, 5200, 180), -13);
    }

    private StereoTrack GuitarsDriven()
    {
        float[] left = DrivenTake(Seed + 41, Fretboard.PowerShape, 24, 4700);
        float[] right = DrivenTake(Seed + 43, HighTriad, 21, 5200);
        StereoTrack track = Blank().Add(left, 0, -0.9).Add(right, -1, 0.9);
        SweepFilter.AddBand(track.Left, SampleRate, 3300, 1.3, Glare);
        SweepFilter.AddBand(track.Right, SampleRate, 3500, 1.3, Glare);
        return track.AddRoom(new RoomSettings(0.7, 0.35, 12, 5000, 200), -17);
    }

    private float[] DrivenTake(uint seed, Func<Chord, int?[]> shape, double driveDb, double toneHertz)
    {
        var settings = new StringSettings(5, 0.07, 0.28, 0.1, 0.12, 5500, 0.15);
        var player = new Groove(Form, 0.5, 0.52, 2, 4.5, seed);
        IEnumerable<StringNote> part =
        [
            .. GuitarPart.Strum(Form, "Chorus 1", shape, "D.......D..d..u.", "D.......D..d.du."),
            .. GuitarPart.Strum(Form, "Bridge", shape, "D..............."),
            .. GuitarPart.Strum(Form, "Chorus 2", shape, "D...d.u.D..d..u.", "D...d.u.D..d.du."),
            .. GuitarPart.Strum(Form, "Outro", shape, "D..............."),
        ];
        float[] take = GuitarPlayer.Play(part, player, settings, Frames, SampleRate, seed);
        GuitarAmp.Process(take, SampleRate, driveDb, toneHertz);
        return take;
    }

    private StereoTrack Keys()
    {
        var chords = new ChordPart(Form, 4, 52, 74);
        var player = new Groove(Form, 0.5, 0.53, 6, 4, Seed + 51);
        IEnumerable<ScoreNote> part =
        [
            .. chords.Held("Intro", 0.55),
            .. chords.Rhythm("Verse", 0.6, 0.85, "x.....t...-...t.", "x.....t...-....."),
            .. chords.Rhythm("Chorus 1", 0.75, 0.9, "x.....x...t.x..."),
            .. chords.Held("Bridge", 0.6),
            .. chords.Rhythm("Chorus 2", 0.8, 0.9, "x.....x...t.x..."),
            .. chords.Held("Outro", 0.6),
        ];
        StereoTrack track = ElectricPiano.Play(part, player, Frames, SampleRate, 4.6, 0.18);
        Dirt.Add(track.Left, SampleRate, 16800, 20500, -60, _ => 1, Seed + 52);
        Dirt.Add(track.Right, SampleRate, 16800, 20500, -60, _ => 1, Seed + 53);
        return track.AddRoom(new RoomSettings(1.2, 0.5, 15, 4800, 160), -16);
    }

    private StereoTrack Pad()
    {
        var chords = new ChordPart(Form, 4, 50, 72);
        var player = new Groove(Form, 1, 0.5, 0, 2, Seed + 61);
        IEnumerable<ScoreNote> part = Form.Sections.SelectMany(section => chords.Held(section.Name, 0.9));
        StereoTrack track = Ensemble.Play(
            part, player, new EnsembleSettings(4, 11, 0.5, 1.4, 0, 0.9), Frames, SampleRate, Seed + 62);
        track.SweepLowPass(seconds => 500 + 2600 * Math.Pow(Force(seconds), 3), 0.9).Filter(Biquad.HighPass(120, 0.7, SampleRate));
        Dirt.Add(track.Left, SampleRate, 16, 29, -30, _ => 1, Seed + 63);
        Dirt.Add(track.Right, SampleRate, 16, 29, -30, _ => 1, Seed + 63);
        return track.AddRoom(new RoomSettings(2.2, 0.9, 20, 4200, 150), -12);
    }

    private double Glare(double seconds) => 2.2 * Inside("Chorus 1", "Chorus 2")(seconds);

    private static int?[] Open(Chord chord) => Fretboard.Shape(chord, 0);

    private static int?[] Middle(Chord chord) => [null, null, .. Fretboard.Shape(chord with { Bass = chord.Root }, 4)[2..]];

    private static int?[] HighTriad(Chord chord) => [null, .. Fretboard.Shape(chord with { Bass = chord.Root }, 2)[1..5], null];
}
