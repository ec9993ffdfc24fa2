using LiveStems.Albums.Model;
using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

/// <summary>The ballad: E flat major, 72 beats a minute in triplets, delivered at 44.1 kHz.</summary>
internal sealed partial class RopeAndRain : SongScript
{
    private RopeAndRain()
        : base(
            new SongForm(
                72,
                3.6,
                2,
                0.3,
                ("Intro", 0.25, "Ebmaj7 | Abmaj7"),
                ("Verse", 0.4, "Eb | Gm7 | Ab | Bb7sus4 Bb7 | Cm7 | Gm7 | Abmaj7 | Fm7 Bb7"),
                ("Chorus 1", 0.75, "Ab Bb | Gm7 Cm7 | Fm7 Bb7 | Ebadd9"),
                ("Bridge", 0.6, "Cm | Am7b5 | Abmaj7 | Bb7sus4 Bb7"),
                ("Chorus 2", 0.95, "Ab Bb | Gm7 Cm7 | Fm7 Bb7 | Ebadd9"),
                ("Outro", 0.3, "Abm6 | Ebadd9")),
            44100,
            2072)
    {
        AddStem("Drums", StemRole.Drums, -7, Drums);
        AddStem("Percussion", StemRole.Percussion, -7, Percussion);
        AddMonoStem("Bass", StemRole.Bass, -11.5, Bass);
        AddStem("Acoustic guitar", StemRole.Guitar, -13.5, AcousticGuitar);
        AddStem("Electric piano", StemRole.Keys, -9.5, Keys);
        AddStem("Strings", StemRole.Strings, -18, Strings);
        AddStem("Lead voice", StemRole.LeadVocal, -4.4, LeadVoice);
        AddStem("Backing voices", StemRole.BackingVocal, -15.2, BackingVoices);
    }

    public static DemoSong Create()
    {
        var script = new RopeAndRain();
        return new DemoSong(
            "Rope and Rain",
            script.Form,
            script.SampleRate,
            "The ballad. The voice must stay in front at every level; nothing may sound pressed.",
            script.Stems,
            script.Faults());
    }

    private List<DemoFault> Faults() =>
    [
        During("Lead voice", "thick on the low notes, not on the high ones", 200, 350, "Verse"),
        During("Lead voice", "s, sh and t far too loud", 6000, 9000, "Verse", "Outro"),
        During("Bass", "loose: notes go on under the next stroke of the bass drum", 40, 110, "Verse", "Chorus 2"),
        During("Acoustic guitar", "the box booms on some notes", 104, 124, "Intro", "Outro"),
        During("Acoustic guitar", "a foot on the floor", 18, 40, "Intro", "Outro"),
        Throughout("Strings", "hiss where the instruments have little", 16500, 20500),
        Throughout("Electric piano", "needless movement far below its lowest note", 15, 30),
    ];
}
