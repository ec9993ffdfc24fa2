using LiveStems.Albums.Model;
using LiveStems.App.Demo.Instruments;
using LiveStems.App.Demo.Mixing;
using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo.Songs;

/// <summary>The opener: A minor, 104 beats a minute, a verse that holds back and a chorus that opens up.</summary>
internal sealed partial class LampsAlongTheMole : SongScript
{
    private const double HatRingHertz = 7800;

    private LampsAlongTheMole()
        : base(
            new SongForm(
                104,
                3.0,
                1,
                0.12,
                ("Intro", 0.35, "Am9 | Fmaj7 | Cadd9 | G6"),
                ("Verse", 0.5, "Am7 | F | C | G | Am7 | F | Dm7 | E7sus4 E7"),
                ("Chorus 1", 0.85, "F | G | Am7 | C/E | F | G | C | G/B"),
                ("Bridge", 0.45, "Dm7 | Am/C | Bb | E7"),
                ("Chorus 2", 1.0, "F | G | Am7 | C/E | F | G | C | G/B"),
                ("Outro", 0.4, "F | Am9")),
            48000,
            1104)
    {
        AddStem("Drums", StemRole.Drums, -5, Drums);
        AddStem("Percussion", StemRole.Percussion, -6.7, Percussion);
        AddMonoStem("Bass", StemRole.Bass, -11, Bass);
        AddStem("Guitar clean", StemRole.Guitar, -17.5, GuitarClean);
        AddStem("Guitars driven", StemRole.Guitar, -18.2, GuitarsDriven);
        AddStem("Electric piano", StemRole.Keys, -11.5, Keys);
        AddStem("Pad", StemRole.Synth, -20, Pad);
        AddStem("Lead voice", StemRole.LeadVocal, -4.7, LeadVoice);
        AddStem("Backing voices", StemRole.BackingVocal, -14.4, BackingVoices);
    }

    public static DemoSong Create()
    {
        var script = new LampsAlongTheMole();
        return new DemoSong(
            "Lamps Along the Mole",
            script.Form,
            script.SampleRate,
            "The opener. The verse should stay close and dark, the chorus should open up without getting hard.",
            script.Stems,
            script.Faults());
    }
}
