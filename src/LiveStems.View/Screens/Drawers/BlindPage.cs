using LiveStems.Engine.Comparing;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>The blind test: nothing here, nor anywhere in the window, tells which side is heard.</summary>
internal sealed class BlindPage(AlbumDesk desk) : DrawerPage(desk)
{
    private static readonly int[] Lengths = [5, 10, 16];

    private int rounds = 10;

    public override string Id => "blind";

    public override string Name => "blind test";

    public override string Key => "6";

    public override string Purpose => "Blind test of what is compared";

    public override string Explanation => Blind.IsRunning
        ? $"Round {Blind.Round} of {Blind.Rounds}. Go to and fro (comma and full stop) as often as you like, then say which one is “out”."
        : "First and second hide “in” and “out” of the comparison, equally loud, anew in every round. What comes out is kept as a note of the song.";

    public override IReadOnlyList<DrawerButton> Buttons => Blind.IsRunning
        ? [new(() => "break off", () => Done(Blind.Stop), "Ends the test without a result.")]
        :
        [
            new(() => "begin", () => Blind.Start(rounds), "Play some seconds before, so that both sides are equally loud."),
            new(() => $"{rounds} rounds", () => Done(() => rounds = Lengths[(Array.IndexOf(Lengths, rounds) + 1) % Lengths.Length]), "More rounds tell a small difference from luck."),
        ];

    public override object State => (Blind.IsRunning, Blind.Round, Blind.HearsFirst, Blind.Result, Desk.Compare.Words);

    private BlindModel Blind => Desk.Compare.Blind;

    public override IReadOnlyList<DrawerLine> Lines() => Blind.IsRunning ? Running() :
    [
        new("compared", Desk.Compare.IsOn ? Desk.Compare.Words : CompareStrip.WordsOf(Desk.Compare.Kind)) { Tone = Tone.Quiet },
        .. Blind.Result is { } result ? (DrawerLine[])[DrawerLine.Heading("the last test"), new(result.Words)] : [],
    ];

    private IReadOnlyList<DrawerLine> Running() =>
    [
        new("hear the first", "comma") { IsOn = Blind.HearsFirst == true, Act = () => Done(() => Blind.Hear(first: true)) },
        new("hear the second", "full stop") { IsOn = Blind.HearsFirst == false, Act = () => Done(() => Blind.Hear(first: false)) },
        DrawerLine.Heading("your answer"),
        new("the first is “out”") { Act = () => Done(() => Blind.Answer(BlindAnswer.First)) },
        new("the second is “out”") { Act = () => Done(() => Blind.Answer(BlindAnswer.Second)) },
        new("they sound the same") { Act = () => Done(() => Blind.Answer(BlindAnswer.Same)) },
    ];
}
