namespace LiveStems.App.Demo.Songs;

internal sealed partial class LampsAlongTheMole
{
    private List<DemoFault> Faults() =>
    [
        During("Drums", "the hats ring at one pitch while they are played half-open", 7700, 7900, "Chorus 1"),
        During("Drums", "the same ringing again", 7700, 7900, "Chorus 2"),
        During("Bass", "the pick clicks at every note", 3000, 5000, "Verse", "Outro"),
        During("Guitars driven", "brittle: a glare on every chord", 2500, 4500, "Chorus 1"),
        During("Guitars driven", "the same glare again", 2500, 4500, "Chorus 2"),
        Throughout("Electric piano", "hiss where the instrument has nothing", 16500, 21000),
        Throughout("Pad", "needless movement far below its lowest note", 15, 30),
        Throughout("Lead voice", "rumble of the microphone stand", 20, 45),
        During("Lead voice", "s, sh and t far too loud", 6000, 9000, "Verse", "Chorus 2"),
        During("Lead voice", "thick on the low notes, not on the high ones", 200, 350, "Verse"),
    ];
}
