namespace LiveStems.App.Demo.Songs;

internal sealed partial class LampsAlongTheMole
{
    private List<DemoFault> Faults() =>
    [
        new("Drums", "the hats ring at one pitch while they are played half-open", 7700, 7900, Form.StartOf("Chorus 1"), Form.EndOf("Chorus 1")),
        new("Drums", "the same ringing again", 7700, 7900, Form.StartOf("Chorus 2"), Form.EndOf("Chorus 2")),
        new("Bass", "the pick clicks at every note", 3000, 5000, Form.StartOf("Verse"), Form.EndOf("Outro")),
        new("Guitars driven", "brittle: a glare on every chord", 2500, 4500, Form.StartOf("Chorus 1"), Form.EndOf("Chorus 1")),
        new("Guitars driven", "the same glare again", 2500, 4500, Form.StartOf("Chorus 2"), Form.EndOf("Chorus 2")),
        new("Electric piano", "hiss where the instrument has nothing", 16500, 21000, 0, Form.Seconds),
        new("Pad", "needless movement far below its lowest note", 15, 30, 0, Form.Seconds),
        new("Lead voice", "rumble of the microphone stand", 20, 45, 0, Form.Seconds),
        new("Lead voice", "s, sh and t far too loud", 6000, 9000, Form.StartOf("Verse"), Form.EndOf("Chorus 2")),
        new("Lead voice", "thick on the low notes, not on the high ones", 200, 350, Form.StartOf("Verse"), Form.EndOf("Verse")),
    ];
}
