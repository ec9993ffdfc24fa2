using LiveStems.Analysis.Headroom;
using LiveStems.Engine.Live;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>What stands in a lane: a stem, a parallel of it, or, with neither, the song bus.</summary>
internal sealed class LaneRow(StemRow? stem, ParallelRow? parallel)
{
    private const double FallDbPerPicture = 0.05;

    public StemRow? Stem => stem;

    public ParallelRow? Parallel => parallel;

    public TapPlace Place => parallel?.Place ?? stem?.Place ?? TapPlace.Bus;

    public bool IsHeard => stem is null || (stem.IsHeard && parallel?.IsMuted != true);

    /// <summary>The highest lately.</summary>
    public double HeldDbfs { get; private set; } = double.NegativeInfinity;

    /// <summary>The level that the lane's meter shows.</summary>
    public double LevelDbfs(AlbumDesk desk) => parallel?.Meter.OutputPeakDbfs ?? stem?.BusPeakDbfs
        ?? Math.Max(desk.Meters.Readings.LeftTruePeakDbtp, desk.Meters.Readings.RightTruePeakDbtp);

    /// <summary>What the treatment buys at the limiter in LU; null where nothing was measured.</summary>
    public double? Account(HeadroomReport report) => report.Rows.FirstOrDefault(row => parallel is null
        ? stem is not null && row.Subject.Kind == HeadroomSubjectKind.WholeStem && row.Subject.Stem == stem.Index
        : row.Subject.Kind == HeadroomSubjectKind.WholeParallel && row.Subject.Stem == stem!.Index && row.Subject.Parallel == parallel.Name)?.BoughtDb;

    public void Hold(double levelDbfs) => HeldDbfs = Math.Max(levelDbfs, HeldDbfs - FallDbPerPicture);
}
