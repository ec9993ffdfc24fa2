using LiveStems.Analysis.Trusting;
using LiveStems.Engine.Hosting;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>Processors of others: what the files in the processors folder say of themselves, what vetting found, and what may run where.</summary>
internal sealed class ProcessorsPage(AlbumDesk desk) : DrawerPage(desk)
{
    private const int HashLetters = 64;
    private const int HashGroup = 16;

    private readonly HashSet<string> unfolded = new(StringComparer.Ordinal);
    private List<string> files = [];
    private AssemblyFacts? asked;

    public override string Id => "processors";

    public override string Name => "processors";

    public override string Key => OutsideModel.PageKey;

    public override string Purpose => "Processors of others: which may run, and where";

    public override string SearchWords => "outside trust refuse vet isolate own process forget plug-in extension file hash author faults";

    public override string Explanation =>
        Desk.Outside.Folder is not { } folder ? "Nobody looks at the processors folder here."
        : Desk.Outside.Fault is { } fault ? PlainText.Of(fault)
        : Asked is { } file ? $"Let {file.FileName} run with your own rights? Read what it says of itself below: nothing proves it. It is vetted in a process of its own first, and loaded only if that finds nothing that must not run. Any other choice leaves it as it is."
        : Desk.Outside.Files.Count == 0 ? $"Nothing in {folder}: put a processor's .dll there, and it is listed here."
        : $"The files in {folder}. Nothing of them runs before you say yes; one that has changed asks again. Enter unfolds what a file says of itself and what was found.";

    public override string? JobKind => OutsideModel.JobKind;

    public override IReadOnlyList<DrawerButton> Buttons => Desk.Outside.Files.Count == 0 ? [] :
    [
        new(() => TrustWords, () => WithChosen(Trust), "Shows what the chosen file says of itself; pressed again, vets it in a process of its own and lets it run."),
        new(() => "refuse", () => WithChosen(Refuse), "Nothing of the chosen file runs; albums that use it keep its settings and play without it."),
        new(() => "own process", () => WithChosen(ToggleApart), "Runs all of the chosen file in a process of its own: not even its crash stops the music; it plays a little later, compensated.")
        {
            IsOn = () => Meant is { IsIsolated: true },
        },
        new(() => "forget", () => WithChosen(Forget), "Takes back whatever was decided about the chosen file: it asks anew."),
    ];

    public override object State => (Desk.Outside.Revision, Desk.OutsideUses.Sum(use => use.Faults), asked, unfolded.Count, Desk.Jobs.Open(OutsideModel.JobKind));

    private string TrustWords => Asked is { } file && file == Meant ? "yes, vet it and let it run"
        : Meant is { State: OutsideState.Loaded } ? "vet again" : "vet and trust";

    // Asked about with the content that was shown.
    private OutsideAssembly? Asked => asked is { } about && Desk.Outside.Find(about.File) is { } file
        && file.Facts.Sha256 == about.Sha256 && file.Facts.Companions.SequenceEqual(about.Companions) ? file : null;

    // The chosen one; where there is one only, it need not be chosen.
    private OutsideAssembly? Meant => Chosen >= 0 && Chosen < files.Count ? Desk.Outside.Find(files[Chosen])
        : Desk.Outside.Files is [var one] ? one : null;

    public override void Opened() => Desk.Outside.Look();

    public override void Closed() => asked = null;

    public override IReadOnlyList<DrawerLine> Lines()
    {
        List<DrawerLine> lines = [];
        List<string> about = [];
        foreach (OutsideAssembly file in Desk.Outside.Files)
        {
            lines.Add(LineOf(file));
            lines.AddRange(unfolded.Contains(file.Facts.File) ? Unfolded(file) : []);
            about.AddRange(Enumerable.Repeat(file.Facts.File, lines.Count - about.Count));
        }

        files = about;
        return lines;
    }

    protected override void OnChosen(int line)
    {
        if (asked is { } about && Meant?.Facts.File != about.File)
        {
            asked = null;
        }
    }

    private DrawerLine LineOf(OutsideAssembly file) => new(file.FileName, OutsideWords.State(file), string.Join(" · ", Parts(file)))
    {
        About = file.Facts.File,
        Tone = file.State switch
        {
            OutsideState.Loaded when OutsideWords.IsMarked(file) || file.Refused.Count > 0 => Tone.Trouble,
            OutsideState.Loaded => Tone.Text,
            OutsideState.Unusable => Tone.Alarm,
            OutsideState.Changed => Tone.Trouble,
            _ => Tone.Quiet,
        },
        Act = () => Done(() => Fold(file.Facts.File)),
    };

    private IEnumerable<string> Parts(OutsideAssembly file)
    {
        if (file.Facts.Types.Count > 0)
        {
            yield return $"{OutsideWords.Names(file)}, version {PlainText.Of(file.Facts.Version, OutsideWords.MostLetters)}";
            yield return file.Facts.Author.Length == 0 ? "no author" : $"says it is by {OutsideWords.Author(file.Facts)}";
            yield return $"asks for {OutsideWords.FewAsks(file.Facts)}";
        }

        if (file.Fault is { } fault)
        {
            yield return PlainText.Of(fault);
        }

        foreach (string id in file.Processors)
        {
            if (Desk.Outside.FaultsOf(id) is { } faults)
            {
                yield return $"{PlainText.Of(id)} so far: {faults}";
            }
        }
    }

    private IEnumerable<DrawerLine> Unfolded(OutsideAssembly file)
    {
        foreach ((string about, string words) in OutsideWords.Facts(file))
        {
            yield return new DrawerLine($"{about}: {Breakable(words)}") { About = (file.Facts.File, about, words), Tone = about == "changed" ? Tone.Trouble : Tone.Quiet };
        }

        foreach (string id in file.Processors)
        {
            VettedProcessor? vetted = file.VettingOf(id);
            bool mayBeMoved = file.State == OutsideState.Loaded && !file.RefusedProcessors.Contains(id);
            bool isApart = OutsideModel.RunsApart(file, id);
            yield return new DrawerLine(
                PlainText.Of(id),
                vetted is null ? "not vetted" : OutsideWords.Verdict(vetted),
                $"{OutsideWords.Running(file, id)}{(mayBeMoved && !isApart ? "; Enter gives it a process of its own, Delete refuses it" : string.Empty)}{(Desk.Outside.FaultsOf(id) is { } faults ? $" · so far: {faults}" : string.Empty)}")
            {
                About = (file.Facts.File, id),
                IsOn = mayBeMoved ? isApart : null,
                Act = mayBeMoved ? () => Desk.Outside.Isolate(file, id, !isApart) : null,
                Remove = mayBeMoved ? () => Desk.Outside.Refuse(file, id) : null,
            };
            foreach (VettingFinding finding in vetted?.Findings ?? [])
            {
                yield return new DrawerLine(OutsideWords.Of(finding)) { About = (file.Facts.File, id, finding.Words), Tone = finding.IsRefusal ? Tone.Alarm : Tone.Trouble };
            }
        }
    }

    // Sixteen digits of a hash at a time, so that all of it can be read and compared however narrow the drawer is.
    private static string Breakable(string words) => string.Join(' ', words.Split(' ').Select(word =>
        word.Length == HashLetters && word.All(char.IsAsciiHexDigit) ? string.Join(' ', word.Chunk(HashGroup).Select(group => new string(group))) : word));

    private string? WithChosen(Func<OutsideAssembly, string?> what) => Meant is { } file ? what(file) : "choose a file first";

    // What it says of itself comes first, the yes second.
    private string? Trust(OutsideAssembly file)
    {
        if (file.Facts.Fault is null && file.State != OutsideState.Loaded && Asked != file)
        {
            asked = file.Facts;
            unfolded.Add(file.Facts.File);
            return null;
        }

        asked = null;
        return Desk.Outside.Trust(file);
    }

    private string? Refuse(OutsideAssembly file)
    {
        asked = null;
        return Desk.Outside.Refuse(file);
    }

    private string? ToggleApart(OutsideAssembly file) => Desk.Outside.Isolate(file, null, !file.IsIsolated);

    private string? Forget(OutsideAssembly file)
    {
        asked = null;
        return Desk.Outside.Forget(file);
    }

    private void Fold(string file)
    {
        if (!unfolded.Remove(file))
        {
            unfolded.Add(file);
        }
    }
}
