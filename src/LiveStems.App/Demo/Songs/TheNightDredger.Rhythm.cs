using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

internal sealed partial class TheNightDredger
{
    private static readonly DrumKitSettings Kit = new(
        new KickDrum(56, 0.32, 0.8),
        new SnareDrum(205, 0.1, 0.95, 210),
        [new TunedDrum(180, 0.4, 0.08, 2000, 0.6), new TunedDrum(134, 0.5, 0.08, 1700, 0.6), new TunedDrum(92, 0.6, 0.09, 1500, 0.6)],
        new HatRing(8950, 0.7),
        HatsDb: -12,
        SnareDb: -2.5,
        RoomDb: -12,
        new RoomSettings(0.45, 0.28, 7, 7000, 160));

    private StereoTrack Drums()
    {
        var start = new DrumBar("................", "................", "................");
        var kickOnly = new DrumBar("x...x...x...x...", "................", "x-x-x-x-x-x-x-x-");
        var pickUp = new DrumBar("x...x...x...x...", "........x.x.XXXX", "x-x-x-x-........");
        DrumBar[] verse =
        [
            new("X...x...X...x...", "....X.......X...", "x-h-x-h-x-h-x-h-"),
            new("X...x...X..xx...", "....X.......X..g", "x-h-x-h-x-h-x-o."),
        ];
        var verseFill = new DrumBar("X...x...X.......", "....X...X..XX.XX", "x-h-x-h-........", Toms: "..........1..2.3");
        DrumBar[] chorus =
        [
            new("X..xx...X..xx...", "....X.......X...", "X.o.X.o.X.o.X.o."),
            new("X..xx...X..xx.x.", "....X..g.g..X..g", "X.o.X.o.X.o.X.o."),
        ];
        var chorusFill = new DrumBar("X..xx...X...X...", "....X...........", "X.o.X...........", Toms: "........11.22.33");
        DrumBar[] bridge =
        [
            new("X...............", "........X.......", "x...x...x...x...", Toms: "............3.33"),
            new("X.........x.....", "........X.......", "x...x...x...x..."),
        ];
        var bridgeFill = new DrumBar("X...X...X...X...", "g-g-g---x-x-xxXX", "................");
        var end = new DrumBar("X...............", "................", "................");
        List<DrumHit> hits = DrumPart.Write(
            Form,
            [
                new DrumSection("Intro", [start, kickOnly, kickOnly], pickUp),
                new DrumSection("Verse 1", verse, verseFill, CrashFirst: true),
                new DrumSection("Chorus 1", chorus, chorusFill, CrashFirst: true),
                new DrumSection("Verse 2", verse, verseFill, CrashFirst: true),
                new DrumSection("Bridge", bridge, bridgeFill, CrashFirst: true),
                new DrumSection("Chorus 2", chorus, chorusFill, CrashFirst: true),
                new DrumSection("Outro", chorus, end, CrashFirst: true),
            ]);
        var drummer = new Groove(Form, 0.5, 0.515, -1, 1.8, Seed + 1);
        Func<double, double> ringing = Inside("Verse 2");
        return DrumKit.Render(hits, drummer, Kit, seconds => 0.24 * ringing(seconds), Frames, SampleRate, Seed)
            .Saturate(1, 0.05)
            .Compress(-16, 2.5, 15, 90, 1);
    }

    private StereoTrack Percussion()
    {
        float[] tambourine = BlankMono();
        float[] congas = BlankMono();
        var player = new Groove(Form, 0.5, 0.52, 3, 3, Seed + 21);
        foreach (string section in new[] { "Verse 1", "Verse 2" })
        {
            HandPercussion.Play(
                congas, SampleRate, player, section, Seed + 22, HandPercussion.Conga, "l..mh.s.m.l.h.hm", "l..mh.s.m.lmh.s.");
        }

        foreach (string section in new[] { "Chorus 1", "Chorus 2", "Outro" })
        {
            HandPercussion.Play(tambourine, SampleRate, player, section, Seed + 23, Jingle, "-.g.X.g.-.g.X.g-");
        }

        StereoTrack track = Blank().Add(tambourine, -6, 0.5).Add(congas, -2, -0.4);
        track.Filter(Biquad.HighPass(120, 0.7, SampleRate));
        Func<double, double> during = Inside("Verse 1", "Chorus 1", "Verse 2", "Bridge", "Chorus 2", "Outro");
        Dirt.Add(track.Left, SampleRate, 16, 29, -36, during, Seed + 24);
        Dirt.Add(track.Right, SampleRate, 16, 29, -36, during, Seed + 24);
        return track.AddRoom(new RoomSettings(0.6, 0.35, 10, 7000, 300), -14);
    }

    // Let go late and held too long: the notes lie under the bass drum.
    private float[] Bass()
    {
        var settings = new BassSettings(
            new StringSettings(5.5, 0.5, 0.30, 0.14, 0.10, 1300, 0.08), ClickDb: 3, ClickHertz: 3900, DriveDb: 5, ToneHertz: 3800);
        var player = new Groove(Form, 0.5, 0.515, 2, 2.5, Seed + 31);
        IEnumerable<ScoreNote> part =
        [
            .. BassPart.Write(Form, "Intro", "r.r8r.r8r.r8r.75"),
            .. BassPart.Write(Form, "Verse 1", "R.r8R.r8R.r8R.75", "R.r8R.r8R.r8R./n"),
            .. BassPart.Write(Form, "Chorus 1", "R.8.R.8.R.8.R.8n"),
            .. BassPart.Write(Form, "Verse 2", "R.r8R.r8R.r8R.75", "R.r8R.r8R.r8R./n"),
            .. BassPart.Write(Form, "Bridge", "R.......R.....5.", "R.......R...R.n."),
            .. BassPart.Write(Form, "Chorus 2", "R.8.R.8.R.8.R.8n"),
            .. BassPart.Write(Form, "Outro", "R.8.R.8.R.8.R.8n", "R.8.R.8.R.8.R.8n", "R.8.R.8.R.8.R.75", "R..............."),
        ];
        IEnumerable<ScoreNote> held = part.Select(note => note with { Beats = 1.2 * note.Beats });
        return BassGuitar.Play(held, player, settings, Frames, SampleRate, Seed + 32);
    }

    private static void Jingle(Span<float> output, int sampleRate, double velocity, char mark, uint seed) =>
        HandPercussion.Tambourine(output, sampleRate, velocity, seed);
}
