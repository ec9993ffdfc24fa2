using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

internal sealed partial class RopeAndRain
{
    private static readonly DrumKitSettings Kit = new(
        new KickDrum(48, 0.5, 0.25),
        new SnareDrum(172, 0.85, 0.9, 280),
        [new TunedDrum(150, 0.6, 0.06, 1500, 0.35), new TunedDrum(108, 0.7, 0.06, 1300, 0.35), new TunedDrum(76, 0.9, 0.07, 1100, 0.35)],
        new HatRing(8200, 0.5),
        HatsDb: -14,
        SnareDb: -3,
        RoomDb: -11,
        new RoomSettings(0.9, 0.45, 14, 5500, 150));

    private StereoTrack Drums()
    {
        DrumBar[] verse =
        [
            new("x.....x..-..", "...s.....s..", "x-gx-gx-gx-g"),
            new("x.....x....-", "...s.....s..", "x-gx-gx-gx-g"),
        ];
        var verseFill = new DrumBar("x.....x.....", "...s.....xg-", "x-gx-gx-g...", Toms: "..........23");
        DrumBar[] chorus =
        [
            new("X....-x..-..", "...X.....X.g", "x-.x-.x-.x-.", "r..r..r..r.."),
            new("X....-x....-", "...X.....X..", "x-.x-.x-.x-.", "r..r..r..r.."),
        ];
        var chorusFill = new DrumBar("X....-x.....", "...X.....x-x", "x-.x-.......", "r..r........", "......1.22.3");
        DrumBar[] bridge =
        [
            new("x...........", "............", "...p.....p..", "r..r..r..r..", "......3....3"),
            new("x.....-.....", ".........s..", "...p.....p..", "r..r..r..r.."),
        ];
        var bridgeFill = new DrumBar("x..x..x..x..", "g.gg.g---xxX", "............", Toms: "......2.23.3");
        DrumBar[] outro =
        [
            new("x.....x.....", "...s.....s..", "x-gx-gx-g..."), new("-...........", "............", "............", "r..........."),
        ];
        List<DrumHit> hits = DrumPart.Write(
            Form,
            [
                new DrumSection("Verse", verse, verseFill),
                new DrumSection("Chorus 1", chorus, chorusFill, CrashFirst: true),
                new DrumSection("Bridge", bridge, bridgeFill),
                new DrumSection("Chorus 2", chorus, chorusFill, CrashFirst: true),
                new DrumSection("Outro", outro),
            ]);
        var drummer = new Groove(Form, 1, 0.5, 4, 4, Seed + 1);
        return DrumKit.Render(hits, drummer, Kit, _ => 0, Frames, SampleRate, Seed).Compress(-20, 1.8, 25, 160, 1);
    }

    private StereoTrack Percussion()
    {
        float[] shaker = BlankMono();
        float[] congas = BlankMono();
        var player = new Groove(Form, 1, 0.5, 6, 4, Seed + 21);
        HandPercussion.Play(shaker, SampleRate, player, "Chorus 1", Seed + 22, Shake, "-.gx.g-.gx.g");
        HandPercussion.Play(shaker, SampleRate, player, "Chorus 2", Seed + 22, Shake, "-.gx.g-.gx.g");
        HandPercussion.Play(congas, SampleRate, player, "Verse", Seed + 23, HandPercussion.Conga, "l.....h..m.h", "l...m.h....l");
        HandPercussion.Play(congas, SampleRate, player, "Chorus 2", Seed + 23, HandPercussion.Conga, "l..s..h..s.h");
        StereoTrack track = Blank().Add(shaker, -2, -0.4).Add(congas, -7, 0.4);
        return track.Filter(Biquad.HighPass(110, 0.7, SampleRate)).AddRoom(new RoomSettings(1.1, 0.5, 16, 6000, 200), -12);
    }

    // Held through to the next note and let go late: the fault is in the playing.
    private float[] Bass()
    {
        var settings = new BassSettings(
            new StringSettings(6, 0.9, 0.36, 0.22, 0.14, 650, 0.05), ClickDb: -60, ClickHertz: 3000, DriveDb: 0, ToneHertz: 2400);
        var player = new Groove(Form, 1, 0.5, 8, 4, Seed + 31);
        IEnumerable<ScoreNote> part =
        [
            .. BassPart.Write(Form, "Verse", "R.....r..5..", "R.....r../.n"),
            .. BassPart.Write(Form, "Chorus 1", "R....rr....n"),
            .. BassPart.Write(Form, "Bridge", "R.....5.....", "R.....r..n.."),
            .. BassPart.Write(Form, "Chorus 2", "R....rr....n"),
            .. BassPart.Write(Form, "Outro", "R...........", "R..........."),
        ];
        IEnumerable<ScoreNote> held = part.Select(note => note with { Beats = 1.15 * note.Beats });
        return BassGuitar.Play(held, player, settings, Frames, SampleRate, Seed + 32);
    }

    private static void Shake(Span<float> output, int sampleRate, double velocity, char mark, uint seed) =>
        HandPercussion.Shaker(output, sampleRate, velocity, seed);
}
