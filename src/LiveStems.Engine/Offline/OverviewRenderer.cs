using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Engine.Offline;

/// <summary>Runs a song once and keeps how loud each of its paths is and how much each processor reduces, over time.</summary>
public static class OverviewRenderer
{
    /// <summary>Columns a second, about.</summary>
    public const double ColumnsPerSecond = 24;

    private const int BlocksPerColumn = 4;

    // A quarter of a column at 384 kHz has 4000 frames.
    private const int LongestBlock = 4096;

    /// <summary>Runs a song on the caller's thread, slower than a render by the looking.</summary>
    /// <param name="song">The song; mute and solo of its stems do not matter, for levels are taken before the mix.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public static SongOverview Run(
        Song song, string albumFolder, ProcessorCatalogue catalogue, IProgress<double>? progress, CancellationToken cancellation)
    {
        PlanOptions probe = new(LongestBlock, LongestBlock) { IsLive = true, CanJump = false };
        using SongSources sources = SongSources.Open(song, albumFolder, probe);
        int blockFrames = Math.Max(1, (int)Math.Round(sources.SampleRate / ColumnsPerSecond / BlocksPerColumn));
        int columnFrames = blockFrames * BlocksPerColumn;
        int columns = (int)((sources.Frames + columnFrames - 1) / columnFrames);
        SongPlan plan = SongCompiler.Compile(song, sources, catalogue, probe with { MaximumFrames = blockFrames });
        List<PathWatch> watches = [.. Watches(plan, columns, columnFrames, blockFrames)];
        plan.Plan.Reset();
        sources.Head.OpenAtStart();
        foreach (StemPump pump in sources.Pumps)
        {
            pump.Start(RealTime.RingStart.First);
        }

        BlockWalk walk = new(plan, block => plan.Plan.RunTail(block));
        long length = sources.Frames + plan.LatencyFrames;
        for (long position = 0; position < length; position += blockFrames)
        {
            cancellation.ThrowIfCancellationRequested();
            walk.RunBlock(blockFrames);
            foreach (PathWatch watch in watches)
            {
                watch.Look(position);
            }

            if (position / blockFrames % 64 == 0)
            {
                progress?.Report((double)position / length);
            }
        }

        return new SongOverview((double)columnFrames / sources.SampleRate, [.. watches.Select(watch => watch.Finish())]);
    }

    private static IEnumerable<PathWatch> Watches(SongPlan plan, int columns, int columnFrames, int blockFrames)
    {
        for (int stem = 0; stem < plan.Stems.Count; stem++)
        {
            StemPath path = plan.Stems[stem];
            PathWatch watch = new(TapPlace.OfStem(stem), path.Stem.Name, path.Taps!, path.Slots, 0, columns, columnFrames, blockFrames);
            yield return watch;
            for (int parallel = 0; parallel < path.Parallels.Count; parallel++)
            {
                ParallelPath under = path.Parallels[parallel];
                if (under.Taps is not null)
                {
                    yield return new PathWatch(
                        new TapPlace(stem, parallel, null),
                        $"{path.Stem.Name}, {under.Parallel.Name}",
                        under.Taps,
                        under.Slots,
                        under.Parallel.AfterChain ? watch.LatencyFrames : 0,
                        columns,
                        columnFrames,
                        blockFrames);
                }
            }
        }

        int busLatency = plan.BusSlots.Sum(slot => slot.Step?.LatencyFrames ?? 0);
        yield return new PathWatch(TapPlace.Bus, "song bus", plan.BusTaps!, plan.BusSlots, plan.LatencyFrames - busLatency, columns, columnFrames, blockFrames);
    }
}
