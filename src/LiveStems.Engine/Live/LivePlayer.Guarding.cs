using System.Collections.Concurrent;
using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Live;

/// <content>
/// Processors of others that never return: the plan that plays goes on without them, and no later one has them.
/// </content>
public sealed partial class LivePlayer
{
    private readonly ConcurrentQueue<(Processor Culprit, long MissedBefore)> lost = new();
    private long missedTold;
    private WatchedRenderer? watched;
    private bool mustCompile;
    private readonly OutsideTally tally = new();

    // Not one of them is tried again in this process: whatever else changes in the folder, they would hang again.
    private readonly HashSet<(string Id, string Build)> hung = [];

    /// <summary>Frames that were not there in time while another thread than the device's rendered.</summary>
    internal long FramesMissedByRendering => watched?.MissedFrames ?? 0;

    /// <summary>Times that a processor did not return.</summary>
    internal int LostWalks { get; private set; }

    /// <summary>True while another thread than the device's renders, and is watched.</summary>
    internal bool IsWatched => watched?.IsWatching ?? false;

    internal bool CanGive(int frames) => watched?.CanGive(frames) ?? true;

    private WatchedRenderer Watched(IAudioRenderer source) =>
        watched = new WatchedRenderer(source, options.MaximumFrames, SampleRate, options.Guard!, (culprit, missedBefore) => lost.Enqueue((culprit, missedBefore)));

    // Before a plan with processors of others may play. It costs latency, so only as long as there is one.
    private void BeginWatch(SongPlan plan)
    {
        if (plan.RunsForeignCode)
        {
            watched?.BeginWatch();
        }
    }

    private void LetGo(LoadedSong? song)
    {
        if (song is not null)
        {
            tally.Add(song);
            song.Plan.Release();
        }
    }

    private void EndWatchWhereNobodyNeedsIt()
    {
        if (watched is { IsWatching: true } && playing?.Plan.RunsForeignCode == false && arriving is null && following is null)
        {
            watched.EndWatch();
        }
    }

    /// <summary>
    /// Other processors from now on: what plays and uses one that is another now is cross-faded to it, at the place where it
    /// stands and with the settings it has. The code that was there before is let go.
    /// </summary>
    /// <param name="newCatalogue">Where processors come from.</param>
    public void Replace(ProcessorCatalogue newCatalogue)
    {
        ProcessorCatalogue before = catalogue;
        catalogue = WithoutHung(newCatalogue);
        ForgetOpening();
        if (following is not null && UsesAnother(following.Request.Song, before, catalogue) && !DropFollowing())
        {
            mustCompile = true;
        }

        if (Latest is { } latest && UsesAnother(latest.Song, before, catalogue))
        {
            mustCompile = true;
            wanted = latest;
            GoOn();
        }
    }

    // Another build of one that hung is tried, and so is this one in a process of its own, where it can hold nobody.
    private ProcessorCatalogue WithoutHung(ProcessorCatalogue from)
    {
        string[] ids = [.. hung.Where(each => from.BuildOf(each.Id) == each.Build && !from.RunsApart(each.Id)).Select(each => each.Id)];
        return ids.Length == 0 ? from : from.NotInside(ids, "it did not come to an end; it is tried again in a process of its own, as another build, or when the program starts anew");
    }

    // One that did not come to an end while its plan was run before it is heard would hold up every plan after it.
    private void NoteHung(SongPlan plan)
    {
        int known = hung.Count;
        foreach ((_, _, PlannedSlot slot) in plan.OutsideSlots)
        {
            if (slot.Step is { Fault: ProcessorFault.Hung } step && GuardedProcessor.IsForeign(step.Processor))
            {
                hung.Add((slot.Slot.Processor, OutsideLoadContext.BuildOf(step.Processor.GetType())));
            }
        }

        catalogue = hung.Count == known ? catalogue : WithoutHung(catalogue);
    }

    private static bool UsesAnother(Song song, ProcessorCatalogue before, ProcessorCatalogue now) =>
        song.Stems
            .SelectMany(stem => stem.Parallels.Select(parallel => parallel.Chain).Append(stem.Chain))
            .Append(song.Bus)
            .SelectMany(chain => chain.Slots)
            .Any(slot => !ReferenceEquals(before.Find(slot.Processor), now.Find(slot.Processor)));

    // Control thread: tells which one hung; where it stands is passed by already, and plans to come do without it.
    private void NoticeLost()
    {
        while (lost.TryDequeue(out (Processor Culprit, long MissedBefore) loss))
        {
            Processor culprit = loss.Culprit;
            // By the name it has in the album, whatever it calls itself.
            (string? song, string? place, PlannedSlot? slot) = new[] { playing, arriving, following }
                .SelectMany(each => each?.OutsideSlots ?? [])
                .FirstOrDefault(entry => ReferenceEquals(entry.Slot.Step?.Processor, culprit));
            string id = slot?.Slot.Processor ?? culprit.Description.Id;
            hung.Add((id, OutsideLoadContext.BuildOf(culprit.GetType())));
            catalogue = WithoutHung(catalogue);

            // Several may have hung in one block: each hole is told once.
            long missed = watched!.MissedFrames;
            tally.AddHang(song ?? string.Empty, place ?? string.Empty, id, missed - Math.Max(missedTold, loss.MissedBefore));
            missedTold = missed;
            LostWalks++;
        }
    }
}
