using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

internal sealed partial class RopeAndRain
{
    private StereoTrack AcousticGuitar()
    {
        float[] left = AcousticTake(Seed + 41, 112, 10);
        float[] right = AcousticTake(Seed + 42, 118, 8);
        var foot = new Groove(Form, 1, 0.5, 0, 12, Seed + 43);
        foreach (ChordSpan chord in Form.Chords)
        {
            Span<float> place = Strike.From(left, foot.SecondsAt(chord.Beat), SampleRate);
            Strike.AddNoise(place, SampleRate, Seed + (uint)chord.Beat, Biquad.BandPass(27, 1.1, SampleRate), 22, 15, 420);
        }

        StereoTrack track = Blank().Add(left, 0, -0.5).Add(right, -1, 0.55);
        return track.AddRoom(new RoomSettings(0.9, 0.4, 10, 6500, 20), -16);
    }

    private float[] AcousticTake(uint seed, double airHertz, double airDb)
    {
        var settings = new StringSettings(3.2, 0.15, 0.22, 0.17, 0, 8000, 0.25);
        var player = new Groove(Form, 1, 0.5, 2, 6, seed);
        IEnumerable<StringNote> part =
        [
            .. GuitarPart.Pick(Form, "Intro", Shape, "b.32.1.23.2."),
            .. GuitarPart.Pick(Form, "Verse", Shape, "b.32.1b.32.1", "b.32.1b.321."),
            .. GuitarPart.Strum(Form, "Chorus 1", Shape, "D..d.uD..d.u"),
            .. GuitarPart.Pick(Form, "Bridge", Shape, "b32123b32123"),
            .. GuitarPart.Strum(Form, "Chorus 2", Shape, "D.ud.uD.ud.u"),
            .. GuitarPart.Pick(Form, "Outro", Shape, "b.32.1.23.2."),
        ];
        float[] take = GuitarPlayer.Play(part, player, settings, Frames, SampleRate, seed);
        GuitarBody.Process(take, SampleRate, airHertz, airDb);
        Saturator.Process(take, 2, 0.05);
        BusCompressor.Process(take, take, SampleRate, -20, 2, 12, 160);
        return take;
    }

    private StereoTrack Keys()
    {
        var chords = new ChordPart(Form, 4, 51, 73);
        var player = new Groove(Form, 1, 0.5, 7, 6, Seed + 51);
        IEnumerable<ScoreNote> part =
        [
            .. chords.Rhythm("Intro", 0.6, 0.98, "x.......t..."),
            .. chords.Rhythm("Verse", 0.6, 0.95, "x....t..t...", "x.....-..t.."),
            .. chords.Rhythm("Chorus 1", 0.75, 0.95, "x..t..x..t.."),
            .. chords.Rhythm("Bridge", 0.65, 0.97, "x.....x....."),
            .. chords.Rhythm("Chorus 2", 0.8, 0.95, "x..t.tx..t.t"),
            .. chords.Held("Outro", 0.6),
        ];
        StereoTrack track = ElectricPiano.Play(part, player, Frames, SampleRate, 3.1, 0.22);
        Dirt.Add(track.Left, SampleRate, 16, 28, -38, _ => 1, Seed + 52);
        Dirt.Add(track.Right, SampleRate, 16, 28, -38, _ => 1, Seed + 52);
        return track.AddRoom(new RoomSettings(1.8, 0.6, 20, 4500, 160), -13);
    }

    private StereoTrack Strings()
    {
        var chords = new ChordPart(Form, 4, 55, 79);
        var player = new Groove(Form, 1, 0.5, 0, 8, Seed + 61);
        IEnumerable<ScoreNote> part =
        [
            .. chords.Held("Verse", 0.55).Where(note => note.Beat >= 4 * (Form["Verse"].FirstBar + 4)),
            .. chords.Held("Chorus 1", 0.85),
            .. chords.Held("Bridge", 0.9),
            .. chords.Held("Chorus 2", 1.0),
            .. chords.Held("Outro", 0.8),
            .. SungLine.Melody(4 * Form["Chorus 2"].FirstBar, CounterLine, 0.9),
        ];
        StereoTrack track = Ensemble.Play(
            part, player, new EnsembleSettings(5, 9, 0.22, 0.5, 14, 0.8), Frames, SampleRate, Seed + 62);
        track.Filter(
            Biquad.HighPass(170, 0.7, SampleRate),
            Biquad.Bell(480, 1, 2, SampleRate),
            Biquad.Bell(1150, 1.4, -3, SampleRate),
            Biquad.Bell(2800, 1.2, 3, SampleRate));
        track.SweepLowPass(seconds => 2200 + 4200 * Math.Pow(Force(seconds), 2), 0.7);
        Dirt.Add(track.Left, SampleRate, 16500, 20000, -54, _ => 1, Seed + 63);
        Dirt.Add(track.Right, SampleRate, 16500, 20000, -54, _ => 1, Seed + 64);
        return track.AddRoom(new RoomSettings(2.3, 1.0, 22, 5200, 180), -9);
    }

    private static int?[] Shape(Chord chord) => Fretboard.Shape(chord, 1);
}
