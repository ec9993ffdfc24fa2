using System.Globalization;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Parallels;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>What the chosen stem is and what runs beside it: name, role, and its parallels with their check.</summary>
internal sealed class StemPage(AlbumDesk desk) : DrawerPage(desk)
{
    private Asked asked;

    public override string Id => "stem";

    public override string Name => "stem";

    public override string Key => "F6";

    public override string Purpose => "The chosen stem: parallels, name, role";

    public override string Explanation => Stem is null
        ? "Choose a stem first: here stand its parallels, its name and what it plays."
        : "A parallel adds a treated copy under the stem, aligned to the sample; it starts at silence. “check” tells whether the pair cancels anywhere.";

    public override string? JobKind => ParallelChecks.JobKind;

    public override IReadOnlyList<DrawerButton> Buttons => Stem is null ? [] :
    [
        new(() => asked == Asked.Name ? "leave the name" : $"rename {Renamed}", Rename, "Puts the name of what is chosen below, to be changed there."),
        new(() => "take the stem out", Stem.Remove, "Takes the stem out of the song; its file stays where it is, and it can be undone. Ctrl+Delete."),
        .. Parallel is not { } parallel ? (DrawerButton[])[] :
        [
            new(() => "check", () => Done(() => Desk.Parallels.Check(parallel)), "Renders the parallel beside its dry stem: how late it is, whether its polarity is right, where both together are less than their parts."),
            new(() => "align", () => Desk.Parallels.Align(parallel), "Sets the fine alignment that the check found; can be undone."),
            new(() => parallel.IsAfterChain ? "fed after the chain" : "fed before the chain", parallel.ToggleFeed, "What goes into the parallel: the stem before its chain, or after."),
            new(() => parallel.IsTurnedOver ? "turn polarity back" : "turn polarity over", parallel.TurnOver, "A gain processor at its end turns both sides over, or is taken away again."),
            new(() => "hits", () => Done(() => Desk.Parallels.MeasureHits(parallel)), "Measures what the parallel does to hits, in the stem and in the whole song: in the loop, or in the 30 s with the most."),
            new(() => asked == Asked.OnsetGain ? "leave the blend" : "blend by hits", () => Ask(Asked.OnsetGain, string.Empty), "Blends it so that the onsets of hits stand so many dB higher in the whole song, once that is no louder than without."),
            new(() => "copy equalisers", parallel.CopyEqualisers, "Puts copies of the stem's equalisers first in a parallel that is fed before the chain, to be changed on their own."),
            new(() => "stem's equalisers first", parallel.ToggleEqualiserLink, "The stem's equalisers come first in a parallel that is fed before the chain, and follow them.") { IsOn = () => parallel.IsEqualiserLinked },
        ],
    ];

    public override DrawerEntry? Entry => Stem is null ? null : new(
        () => asked switch
        {
            Asked.Name => "another name",
            Asked.OnsetGain => "onsets higher in the song by, dB: such as 0.5",
            _ => $"name of a new parallel under {Stem.Name}",
        },
        Take);

    public override string About => $"{(asked == Asked.NewParallel ? Stem?.Name : Renamed)} in {Desk.Song.Title}";

    public override object State => (Desk.Revision, Desk.Parallels.Revision, Desk.Selection.Stem, Desk.Selection.Parallel, asked);

    private enum Asked
    {
        NewParallel,
        Name,
        OnsetGain,
    }

    private StemRow? Stem => Desk.SelectedStem;

    private ParallelRow? Parallel => Stem is { } stem && Desk.Selection.Parallel is >= 0 and var chosen && chosen < stem.Parallels.Count ? stem.Parallels[chosen] : null;

    private string Renamed => Parallel?.Name ?? Stem?.Name ?? string.Empty;

    public override IReadOnlyList<DrawerLine> Lines()
    {
        if (Stem is not { } stem)
        {
            return [];
        }

        List<DrawerLine> lines = [DrawerLine.Heading($"parallels of {stem.Name}")];
        lines.AddRange(stem.Parallels.Select(LineOf));
        if (stem.Parallels.Count == 0)
        {
            lines.Add(new DrawerLine("none yet: type a name below") { Tone = Tone.Quiet });
        }

        lines.Add(DrawerLine.Heading("what it plays"));
        lines.AddRange(Enum.GetValues<StemRole>().Select(role => new DrawerLine(AlbumWords.Role[role].Replace('-', ' '))
        {
            IsOn = stem.Role == role,
            Act = () => stem.SetRole(role),
        }));
        return lines;
    }

    public override void Opened() => asked = Asked.NewParallel;

    private DrawerLine LineOf(ParallelRow parallel) => new(parallel.Name, parallel.Blend.Text, DetailOf(parallel))
    {
        IsOn = parallel.IsSelected,
        Tone = Desk.Parallels.Of(parallel) is { } report && !Desk.Parallels.IsOld(parallel) && (report.IsTurnedOver || report.Losses.Any()) ? Tone.Trouble : Tone.Text,
        Act = () => Done(parallel.IsSelected ? Stem!.Select : parallel.Select),
        Remove = parallel.Remove,
    };

    private string DetailOf(ParallelRow parallel) =>
        Desk.Parallels.HitsOf(parallel) is { } hits ? $"{HitsIn(hits)} · {PairOf(parallel)}" : PairOf(parallel);

    private static string HitsIn(BlendReport hits) =>
        $"{hits.InSong.Hits} hits: onsets {Signed(hits.InStem.OnsetDb)} dB in the stem, {Signed(hits.InSong.OnsetDb)} dB in the song, {Signed(hits.FairOnsetDb)} dB once equally loud";

    private static string Signed(double value) => value.ToString("+0.0;−0.0;0.0", CultureInfo.InvariantCulture);

    private string PairOf(ParallelRow parallel)
    {
        if (Desk.Parallels.Of(parallel) is not { } report)
        {
            return "not checked · Enter chooses it, Delete takes it away";
        }

        if (Desk.Parallels.IsOld(parallel))
        {
            return "changed since it was checked";
        }

        string time = !report.IsAlike || report.Delay is not { } delay ? "too unlike the dry stem to tell the time between them"
            : delay.IsInTime ? "in time to the sample"
            : $"{Math.Abs(delay.Samples):0.00} samples {(delay.Samples > 0 ? "later" : "earlier")} than the dry stem";
        string polarity = report.IsTurnedOver
            ? $"polarity turned over: the other way both are {report.TurnedOverLufs - report.BothLufs:0.0} LU louder"
            : "polarity right";
        return $"{time} · {polarity} · {LossesOf(report)}";
    }

    private static string LossesOf(ParallelCheckReport report) => report.Losses.OrderBy(band => band.SumDb).FirstOrDefault() is { } worst
        ? $"cancels in {report.Losses.Count()} third octaves, most at {FrequencyText.Of(worst.NotchHz)}"
        : "cancels nowhere";

    private string? Rename() => Ask(Asked.Name, Renamed);

    // A second press takes the question back.
    private string? Ask(Asked question, string present)
    {
        asked = asked == question ? Asked.NewParallel : question;
        PutWords(asked == Asked.NewParallel ? string.Empty : present);
        return null;
    }

    private string? Take(string text)
    {
        string? fault = asked switch
        {
            Asked.Name => Parallel is { } parallel ? parallel.Rename(text) : Stem!.Rename(text.Trim()),
            Asked.OnsetGain => BlendTo(text),
            _ => AddParallel(text.Trim()),
        };
        asked = fault is null ? Asked.NewParallel : asked;
        return fault;
    }

    private string? BlendTo(string text) => Parallel is { } parallel ? Desk.Parallels.OnsetOf(parallel).SetText(text) : "choose a parallel first";

    private string? AddParallel(string name)
    {
        StemRow stem = Stem!;
        string? fault = stem.AddParallel(name);
        if (fault is null)
        {
            stem.Parallels[^1].Select();
        }

        return fault;
    }
}
