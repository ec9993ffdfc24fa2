using LiveStems.Analysis.Trusting;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Planning;

namespace LiveStems.View.Desk;

/// <summary>
/// The files of the processors folder, and what the person at the desk says about them: yes, no, apart, forgotten. What comes
/// of it is taken up as any change of the folder is, while the music plays.
/// </summary>
/// <remarks>A matter of the user, not of the album: it is kept with the user's decisions and not undone.</remarks>
public sealed class OutsideModel
{
    /// <summary>The kind of the job that vets.</summary>
    public const string JobKind = "vetting";

    /// <summary>The key that opens the page about them.</summary>
    public const string PageKey = "F8";

    private readonly AlbumDesk desk;
    private IReadOnlyDictionary<string, ProcessorFaults> kept = new Dictionary<string, ProcessorFaults>();
    private Vetting? vetting;

    internal OutsideModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>Counts up whenever the files or what is decided about them are others.</summary>
    public long Revision { get; private set; }

    /// <summary>The processors folder; null where nobody looks at it.</summary>
    public string? Folder => desk.ProcessorWatch?.Places.Folder;

    /// <summary>Why no decision could be read, one line; nothing is trusted then.</summary>
    public string? Fault => Host?.StoreFault;

    /// <summary>The files that hold processors, or should.</summary>
    public IReadOnlyList<OutsideAssembly> Files => Host?.Assemblies ?? [];

    private ProcessorHost? Host => desk.ProcessorWatch?.Current;

    /// <summary>A file by its full path; null when it is gone.</summary>
    public OutsideAssembly? Find(string path) => Files.FirstOrDefault(file => file.Facts.File == path);

    /// <summary>Reads what went wrong in earlier runs.</summary>
    public void Look()
    {
        kept = desk.ProcessorWatch is { } watch ? FaultLog.Load(watch.Places) : kept;
        Revision++;
    }

    /// <summary>What a processor has done wrong so far, in words: in earlier runs, and since this album was opened; null when nothing.</summary>
    public string? FaultsOf(string id)
    {
        OutsideUse[] now = [.. desk.OutsideUses.Where(use => use.Processor == id && use.Faults > 0)];
        ProcessorFaults? before = kept.GetValueOrDefault(id);
        return now.Length == 0 ? before is null ? null : OutsideWords.Of(before)
            : OutsideWords.Of(new ProcessorFaults(
                (before?.Faults ?? 0) + now.Sum(use => use.Faults),
                (before?.FramesLost ?? 0) + now.Sum(use => use.FramesLost),
                now[^1].LastFault ?? before?.LastFault,
                DateTimeOffset.Now));
    }

    /// <summary>What vetting found about a processor that may run all the same: "allocates 2 kB a block"; null when nothing, or when it has not been vetted.</summary>
    public string? MarkOf(string id)
    {
        string[] marks = [.. Files.SelectMany(file => file.VettingOf(id)?.Findings ?? []).Select(finding => PlainText.Of(finding.Words))];
        return marks.Length == 0 ? null : string.Join("; ", marks);
    }

    /// <summary>True when a processor of a file runs in a process of its own wherever it is used.</summary>
    public static bool RunsApart(OutsideAssembly file, string id) => file.IsIsolated || file.Isolated.Contains(id);

    /// <summary>
    /// A yes to a file that was shown: it is vetted in the background, in a process of its own, and loaded when nothing was found
    /// that must not run. One that is loaded already is vetted again. Null when begun, or why not.
    /// </summary>
    public string? Trust(OutsideAssembly file)
    {
        if (Host is not { } host)
        {
            return desk.Refuse("nobody looks at the processors folder here");
        }

        if (file.Facts.Fault is { } fault)
        {
            return desk.Refuse(PlainText.Of($"{file.FileName}: {fault}"));
        }

        Vetting begun = new(file.Facts.File);
        begun.Job = desk.Jobs.Start(
            JobKind,
            $"vetting {file.FileName}",
            (progress, cancellation) => Vet(host, file, progress, cancellation),
            outcome => Tell(file, begun, outcome));
        vetting = begun;
        return null;
    }

    /// <summary>A no, to one of several processors or to all of a file: it runs no more, and what uses it plays without it. Null, or why it cannot be kept.</summary>
    public string? Refuse(OutsideAssembly file, string? id = null) => Decide(file, host => ProcessorTrust.Refuse(host, file, id));

    /// <summary>Has a processor of a loaded file, or all of them, run in a process of its own, or inside the program. Null, or why not.</summary>
    /// <param name="file">The file.</param>
    /// <param name="id">One of its processors, or null for all.</param>
    /// <param name="isApart">True for a process of its own.</param>
    public string? Isolate(OutsideAssembly file, string? id, bool isApart) => file.State == OutsideState.Loaded
        ? Decide(file, host => ProcessorTrust.Isolate(host, file, id, isApart))
        : desk.Refuse($"{file.FileName} is not trusted, so nothing of it runs; say yes to it first");

    /// <summary>Takes back whatever was decided about a file, so that it asks anew. Null, or why not.</summary>
    public string? Forget(OutsideAssembly file) => Decide(file, host => ProcessorTrust.Forget(host, file));

    /// <summary>The processors folder is another.</summary>
    internal void Changed() => Look();

    private static TrustOutcome Vet(ProcessorHost host, OutsideAssembly file, IProgress<double> progress, CancellationToken cancellation)
    {
        void Report(string id, double share) => progress.Report(share);
        try
        {
            return file.State == OutsideState.Loaded
                ? ProcessorTrust.VetAgain(host, file, Report, cancellation)
                : ProcessorTrust.Trust(host, file, Report, cancellation);
        }
        catch (HostingException fault)
        {
            // Part of it is what the file says.
            throw new HostingException(PlainText.Of(fault.Message), fault);
        }
    }

    // The later word counts: what is said about a file while it is vetted is not undone when vetting ends.
    private string? Decide(OutsideAssembly file, Func<ProcessorHost, string> decide)
    {
        if (Host is not { } host)
        {
            return desk.Refuse("nobody looks at the processors folder here");
        }

        string calledOff = CallOffVetting(file) ? "; its vetting is called off" : string.Empty;
        try
        {
            desk.Say(MessageKind.Remark, decide(host) + calledOff);
            Revision++;
            return null;
        }
        catch (HostingException fault)
        {
            return desk.Refuse(PlainText.Of(fault.Message) + calledOff);
        }
    }

    private bool CallOffVetting(OutsideAssembly file)
    {
        if (vetting is not { Job.IsOpen: true } open)
        {
            vetting = null;
            return false;
        }

        if (open.File != file.Facts.File)
        {
            return false;
        }

        open.Job.Cancel();
        open.IsOverruled = true;
        return true;
    }

    private void Tell(OutsideAssembly file, Vetting done, TrustOutcome outcome)
    {
        vetting = ReferenceEquals(vetting, done) ? null : vetting;
        if (done.IsOverruled)
        {
            // It was over just before, and is true no more.
            return;
        }

        VettingFinding[] findings = [.. outcome.Vetting.SelectMany(each => each.Findings)];
        string what = findings.Length == 0 ? "keeps the contract" : OutsideWords.Of(findings.FirstOrDefault(finding => finding.IsRefusal) ?? findings[0]);
        desk.Say(
            outcome.MayRun ? MessageKind.Remark : MessageKind.Trouble,
            outcome.MayRun ? $"{file.FileName} is trusted{OutsideWords.Without(outcome.Refused)}: {what}" : $"{file.FileName} does not run: {what}");
        Revision++;
    }

    // The file that is being vetted, and whether something else has been said about it since.
    private sealed class Vetting(string file)
    {
        public string File => file;

        public DeskJob Job { get; set; } = null!;

        public bool IsOverruled { get; set; }
    }
}
