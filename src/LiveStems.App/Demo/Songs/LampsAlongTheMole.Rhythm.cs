using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

internal sealed partial class LampsAlongTheMole
{
    private static readonly DrumKitSettings Kit = new(
        new KickDrum(52, 0.42, 0.55),
        new SnareDrum(188, 1.0, 1.0, 230),
        [new TunedDrum(168, 0.5, 0.08, 1800, 0.5), new TunedDrum(122, 0.6, 0.08, 1500, 0.5), new TunedDrum(84, 0.8, 0.09, 1300, 0.5)],
        new HatRing(HatRingHertz, 0.9),
        HatsDb: -11,
        SnareDb: -2,
        RoomDb: -13,
        new RoomSettings(0.55, 0.32, 9, 6500, 140));

    private Groove Drummer => new(Form, 0.5, 0.53, 0, 2.2, Seed + 1);

    private Groove Bassist => new(Form, 0.5, 0.53, 5, 3, Seed + 2);

    private StereoTrack Drums()
    {
        var silence = new DrumBar("................", "................", "................");
        var hatsIn = new DrumBar("................", "................", "x.-.x.-.x.-.x.-.");
        var hatsFill = new DrumBar("..............x.", "..............g.", "x.-.x.-.x.-.x.o.");
        DrumBar[] verse =
        [
            new("X......x..x.....", "....s.......s...", "x.-.x.-.x.-.x.--"),
            new("X......x..x...x.", "....s.......s..g", "x.-.x.-.x.-.x.h."),
        ];
        DrumBar[] chorus =
        [
            new("X.....x.X..x....", "....X.......X..g", "X.h.X.h.X.h.X.h."),
            new("X.....x.X..x..x.", "....X..g.g..X...", "X.h.X.h.X.h.X.o."),
        ];
        var verseFill = new DrumBar("X......x..x.....", "....x.....x.xgXX", "x.-.x.-.........", Toms: "............1.3.");
        var chorusFill = new DrumBar("X.....x.X.......", "....X...XX......", "X.h.X...........", Toms: "..........11223.");
        var bridge = new DrumBar("X...............", "................", "....p.......p...", "r...r...r...r...", "..........3...33");
        var bridgeFill = new DrumBar("x...x...x...x...", "g.g.g.g.-.-.xxXX", "................", Toms: "........3.3.2.2.");
        var end = new DrumBar("X.....x.........", "....x...........", "x.-.x.-.x.......", "................");
        var last = new DrumBar("x...............", "................", "................", "r...............");
        List<DrumHit> hits = DrumPart.Write(
            Form,
            [
                new DrumSection("Intro", [silence, silence, hatsIn, hatsFill]),
                new DrumSection("Verse", verse, verseFill),
                new DrumSection("Chorus 1", chorus, chorusFill, CrashFirst: true),
                new DrumSection("Bridge", [bridge], bridgeFill, CrashFirst: true),
                new DrumSection("Chorus 2", chorus, chorusFill, CrashFirst: true),
                new DrumSection("Outro", [end], last, CrashFirst: true),
            ]);
        Func<double, double> inChoruses = Inside("Chorus 1", "Chorus 2");
        return DrumKit.Render(hits, Drummer, Kit, seconds => 0.34 * inChoruses(seconds), Frames, SampleRate, Seed)
            .Saturate(0.5, 0.05)
            .Compress(-17, 2.2, 18, 110, 1);
    }

    private StereoTrack Percussion()
    {
        float[] shaker = BlankMono();
        float[] tambourine = BlankMono();
        var shakes = new Groove(Form, 0.5, 0.54, 3, 3, Seed + 21);
        var jingles = new Groove(Form, 0.5, 0.53, 6, 3, Seed + 22);
        foreach (string section in new[] { "Verse", "Chorus 1", "Chorus 2" })
        {
            HandPercussion.Play(shaker, SampleRate, shakes, section, Seed + 23, Shake, "x-g-x-g-x-g-x-g-");
        }

        foreach (string section in new[] { "Chorus 1", "Chorus 2" })
        {
            HandPercussion.Play(tambourine, SampleRate, jingles, section, Seed + 24, Jingle, "g.-.X.-.g.-.X.--");
        }

        StereoTrack track = Blank().Add(shaker, -3, 0.45).Add(tambourine, -7, -0.55);
        return track.Filter(Biquad.HighPass(180, 0.7, SampleRate)).AddRoom(new RoomSettings(0.6, 0.35, 12, 7000, 300), -15);
    }

    private float[] Bass()
    {
        var settings = new BassSettings(
            new StringSettings(3.2, 0.09, 0.32, 0.16, 0.11, 900, 0.06), ClickDb: 4, ClickHertz: 3900, DriveDb: 2, ToneHertz: 3600);
        IEnumerable<ScoreNote> part =
        [
            .. BassPart.Write(Form, "Intro", "................", "................", "r...............", "r...........n..."),
            .. BassPart.Write(Form, "Verse", "R......r..r../..", "R......r..r...n."),
            .. BassPart.Write(Form, "Chorus 1", "R.r.r.rrR.r.r.5.", "R.r.r.rrR.r.8.n."),
            .. BassPart.Write(Form, "Bridge", "R...........5...", "R.........5.n..."),
            .. BassPart.Write(Form, "Chorus 2", "R.r.r.rrR.r.r.5.", "R.r.r.rrR.r.8.n."),
            .. BassPart.Write(Form, "Outro", "R.....r.5...n...", "R..............."),
        ];
        return BassGuitar.Play(part, Bassist, settings, Frames, SampleRate, Seed + 3);
    }

    private static void Shake(Span<float> output, int sampleRate, double velocity, char mark, uint seed) =>
        HandPercussion.Shaker(output, sampleRate, velocity, seed);

    private static void Jingle(Span<float> output, int sampleRate, double velocity, char mark, uint seed) =>
        HandPercussion.Tambourine(output, sampleRate, velocity, seed);
}
