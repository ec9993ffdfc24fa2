using LiveStems.Albums.Model;
using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

/// <summary>The closer: E minor, 132 beats a minute, a machine that works all night.</summary>
internal sealed partial class TheNightDredger : SongScript
{
    private TheNightDredger()
        : base(
            new SongForm(
                132,
                3.2,
                1,
                0.05,
                ("Intro", 0.55, "Em7 | Em7 | Em7 | Em7"),
                ("Verse 1", 0.6, "Em7 | Em7 | A | A | Em7 | Em7 | C | D"),
                ("Chorus 1", 0.9, "C | D | Em | G | C | D | Em | Bm7"),
                ("Verse 2", 0.7, "Em7 | Em7 | A | A | Em7 | Em7 | C | D"),
                ("Bridge", 0.5, "Am7 | Bm7 | C | B7sus4 B7"),
                ("Chorus 2", 1.0, "C | D | Em | G | C | D | Em | G"),
                ("Outro", 0.85, "C | D | Em | Em")),
            48000,
            3132)
    {
        AddStem("Drums", StemRole.Drums, -5.7, Drums);
        AddStem("Percussion", StemRole.Percussion, -9.7, Percussion);
        AddMonoStem("Bass", StemRole.Bass, -11, Bass);
        AddStem("Guitars rhythm", StemRole.Guitar, -17.7, GuitarsRhythm);
        AddMonoStem("Guitar lead", StemRole.Guitar, -19.5, GuitarLead);
        AddStem("Organ", StemRole.Keys, -17, OrganPart);
        AddStem("Pad", StemRole.Synth, -21.5, Pad);
        AddStem("Lead voice", StemRole.LeadVocal, -4.5, LeadVoice);
        AddStem("Backing voices", StemRole.BackingVocal, -14.2, BackingVoices);
        AddStem("Harbour", StemRole.Effects, -16, HarbourSounds);
    }

    public static DemoSong Create()
    {
        var script = new TheNightDredger();
        return new DemoSong(
            "The Night Dredger",
            script.Form,
            script.SampleRate,
            "The closer. It should hit hard from the first bar; snare and bass drum carry it.",
            script.Stems,
            script.Faults());
    }

    private List<DemoFault> Faults() =>
    [
        During("Drums", "the snare has wires but no impact", 150, 2500, "Verse 1", "Outro"),
        During("Drums", "the hats ring at one pitch", 8850, 9050, "Verse 2"),
        During("Percussion", "needless low end from the stand of the congas", 15, 30, "Verse 1", "Outro"),
        During("Bass", "loose: notes go on under the next stroke of the bass drum", 40, 100, "Intro", "Outro"),
        During("Bass", "the pick clicks at every note", 3000, 5000, "Intro", "Outro"),
        During("Guitars rhythm", "brittle: a glare on every chord", 2500, 4500, "Chorus 1"),
        During("Guitars rhythm", "the same glare again", 2500, 4500, "Chorus 2", "Outro"),
        Throughout("Lead voice", "rumble of the microphone stand", 20, 45),
        During("Lead voice", "s, sh and t far too loud", 6000, 9000, "Verse 1", "Chorus 2"),
        Throughout("Pad", "hiss where the instrument has nothing", 16500, 21500),
    ];
}
