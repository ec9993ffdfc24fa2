using LiveStems.Albums.Model;
using LiveStems.Analysis.Parallels;

namespace LiveStems.View.Desk;

/// <summary>What the checks of parallels against their stems found, as far as they were asked.</summary>
public sealed class ParallelChecks
{
    /// <summary>The kind of the job that checks a parallel.</summary>
    public const string JobKind = "parallel";

    private readonly AlbumDesk desk;
    private readonly Dictionary<(string Song, string Stem, string Parallel), (ParallelCheckReport Report, Stem Checked)> reports = [];

    internal ParallelChecks(AlbumDesk desk) => this.desk = desk;

    /// <summary>Counts up whenever anything was found.</summary>
    public long Revision { get; private set; }

    /// <summary>What was found of a parallel; null before it was checked.</summary>
    public ParallelCheckReport? Of(ParallelRow parallel) => Find(parallel)?.Report;

    /// <summary>True when the stem or the parallel has been changed since it was checked.</summary>
    public bool IsOld(ParallelRow parallel) => Find(parallel) is { } found && !SoundsAlike(found.Checked, desk.Song.Stems[parallel.Place.Stem]);

    /// <summary>Listens to a parallel beside its stem: time, polarity, and where the pair sums to less than its parts.</summary>
    public DeskJob Check(ParallelRow parallel)
    {
        Song song = desk.Song;
        Stem stem = song.Stems[parallel.Place.Stem];
        string name = parallel.Name;
        string folder = desk.Folder;
        return desk.Jobs.Start(
            JobKind,
            $"checking {stem.Name}, {name}",
            (progress, cancellation) => ParallelCheck.Measure(song, stem.Name, name, folder, desk.Catalogue, progress, cancellation),
            report =>
            {
                reports[(song.Title, stem.Name, name)] = (report, stem);
                Revision++;
            });
    }

    /// <summary>Brings a parallel onto its dry stem, as the check found. Null, or what is wrong.</summary>
    public string? Align(ParallelRow parallel) =>
        Of(parallel) is not { } report ? "check the parallel first: then it is known how it lies"
        : IsOld(parallel) ? "the stem has been changed since the check: check the parallel again"
        : report.IsAlike ? parallel.Align.Set(report.BestAlignSamples)
        : "the parallel is too unlike the dry stem to be aligned by it; its latency is made up for anyway";

    // Notes and names do not count.
    private static bool SoundsAlike(Stem one, Stem other) =>
        one.File == other.File && one.Placement == other.Placement && one.Chain == other.Chain && one.Parallels == other.Parallels;

    private (ParallelCheckReport Report, Stem Checked)? Find(ParallelRow parallel) =>
        reports.TryGetValue((desk.Song.Title, desk.Song.Stems[parallel.Place.Stem].Name, parallel.Name), out (ParallelCheckReport, Stem) found) ? found : null;
}
