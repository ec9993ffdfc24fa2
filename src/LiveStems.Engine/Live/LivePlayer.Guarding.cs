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
/// Processors of others that never return. Beside every plan that runs such processors lies a spare one without any, ready
/// to play; the watching thread switches the whole rendering over to it, and the control thread then brings a plan without
/// the one that hung.
/// </content>
public sealed partial class LivePlayer
{
    private readonly Lock handing = new();
    private WatchedRenderer? watched;
    private volatile SpareSong? spare;
    private volatile Loss? lost;
    private bool mustCompile;
    private readonly OutsideTally tally = new();

    // Not one of them is tried again in this process: whatever else changes in the folder, they would hang again.
    private readonly HashSet<(string Id, string Build)> hung = [];

    /// <summary>Frames that were not there in time while another thread than the device's rendered.</summary>
    internal long FramesMissedByRendering => watched?.MissedFrames ?? 0;

    internal bool CanGive(int frames) => watched?.CanGive(frames) ?? true;

    private WatchedRenderer Watched(IAudioRenderer source) =>
        watched = new WatchedRenderer(source, options.MaximumFrames, SampleRate, options.Guard!, TakeOver);

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
            tally.Add(song.Plan);
            song.Plan.Release();
        }
    }

    private void EndWatchWhereNobodyNeedsIt()
    {
        if (lost is null && playing?.Plan.RunsForeignCode == false && following is null)
        {
            spare = null;
            watched?.EndWatch();
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
        foreach ((_, PlannedSlot slot) in plan.OutsideSlots)
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

    // What a plan with processors of others falls back on; null when neither it nor the one before it has any.
    private SpareSong? SpareOf(LoadedSong loaded)
    {
        if (!loaded.Plan.RunsForeignCode && spare is null)
        {
            return null;
        }

        SongPlan plan = loaded.SparePlan ?? CompileSpare(loaded.Request, loaded.Plan.Sources);
        LoadedSong without = new(plan, loaded.Streamer, loaded.Request);
        return new SpareSong(without, Ready(without, null));
    }

    // Where the plan itself is compiled, which in a window is not the control thread. Nothing of others is in it, so nothing in
    // it can hang.
    private SongPlan? SparePlanFor(SongPlan plan, SongRequest request) =>
        plan.RunsForeignCode || spare is not null ? CompileSpare(request, plan.Sources) : null;

    private SongPlan CompileSpare(SongRequest request, SongSources sources)
    {
        SongPlan plan = SongCompiler.Compile(ComparedSongs.Only(request.Song), sources, BuiltInProcessors.Catalogue, options);
        PlanWarmUp.Run(plan, options.MaximumFrames, isAlone: false);
        return plan;
    }

    private void PostToSpare(SongRequest request)
    {
        if (spare is { } now)
        {
            _ = PlanUpdate.TryPost(now.Song.Plan, ComparedSongs.Only(request.Song));
            now.Song.Request = request;
        }
    }

    // Watching thread. The lost thread is stuck in a processor and cannot come back into anything that is set here.
    private void TakeOver(Processor culprit)
    {
        lock (handing)
        {
            SongSwitch songs = NewSwitch();
            if (spare is { } ready)
            {
                songs.Begin(ready.Playing);
            }

            renderer.Songs = songs;
            lost = new Loss(culprit, spare?.Song);
        }
    }

    // Control thread: hands a song over, unless the rendering has just been lost; it is asked for again then.
    private void Offer(LoadedSong song, PlayingSong ready)
    {
        SpareSong? next = SpareOf(song);
        BeginWatch(song.Plan);
        lock (handing)
        {
            if (lost is null)
            {
                spare = next;
                renderer.Songs.Offer(ready);
                return;
            }
        }

        wanted = song.Request;
        arriving = null;
        song.Plan.Release();
        if (!ReferenceEquals(song.Streamer, playing?.Streamer))
        {
            song.Close();
        }
    }

    // Control thread: what plays now is the spare plan; a plan without the one that hung is to follow.
    private void NoticeLost()
    {
        if (lost is not { } loss)
        {
            return;
        }

        // By the name it has in the album, whatever it calls itself.
        (string place, PlannedSlot? slot) = new[] { playing, arriving, following }
            .SelectMany(song => song is null ? [] : song.Plan.Slots())
            .FirstOrDefault(entry => ReferenceEquals(entry.Slot.Step?.Processor, loss.Culprit));
        string id = slot?.Slot.Processor ?? loss.Culprit.Description.Id;
        lost = null;
        SongRequest? latest = Latest;
        hung.Add((id, OutsideLoadContext.BuildOf(loss.Culprit.GetType())));
        catalogue = WithoutHung(catalogue);
        dropped = $"{id} did not come to an end and is passed by";
        tally.AddHang(place ?? string.Empty, id, watched!.MissedFrames - watched.MissedBeforeLoss);
        LoadedSong? before = playing;
        playing = loss.Song;
        if (before is not null && !ReferenceEquals(before.Streamer, playing?.Streamer))
        {
            before.Close();
        }

        LetGo(before);
        renderer.Songs.Withdraw();

        // Its stems are read by the one that the spare plan has.
        LetGo(arriving);
        following?.Plan.Release();
        following?.Close();
        ForgetOpening();
        arriving = null;
        following = null;
        Comparing.Leave();
        wanted = latest;
        mustCompile = true;
        PutTaps();
    }

    private sealed record Loss(Processor Culprit, LoadedSong? Song);

    private sealed record SpareSong(LoadedSong Song, PlayingSong Playing);
}
