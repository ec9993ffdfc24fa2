using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;

namespace LiveStems.Engine.Live;

/// <summary>A song of the player: its plan, the threads that read its stems, and what has been said about it.</summary>
internal sealed class LoadedSong(SongPlan plan, StemStreamer streamer, SongRequest request)
{
    private readonly HashSet<PlannedSlot> toldSlots = [];
    private readonly HashSet<string> toldStems = [];

    public SongPlan Plan { get; } = plan;

    public StemStreamer Streamer { get; } = streamer;

    /// <summary>What was asked for, with the values it has by now.</summary>
    public SongRequest Request { get; set; } = request;

    /// <summary>True while it plays or is about to.</summary>
    public bool ShouldPlay
    {
        get => Plan.Sources.Head.ShouldPlay;
        set => Plan.Sources.Head.ShouldPlay = value;
    }

    /// <summary>Frames left to the end of the longest stem.</summary>
    public long FramesLeft => Plan.Sources.Frames - Plan.Sources.Head.Position;

    /// <summary>Stems that are silent because the disk does not deliver them.</summary>
    public IEnumerable<string> LateStems =>
        Plan.Stems.Where((_, index) => ShouldPlay && Plan.Sources.Pumps[index].Feed.IsLate).Select(path => path.Stem.Name);

    /// <summary>True when the open stems are those that the request needs.</summary>
    public bool CanPlay(SongRequest wanted) =>
        Request.Folder == wanted.Folder
        && PlanUpdate.HasSameSources(Plan.Song, wanted.Song)
        && Plan.Sources.HoldBeside(wanted.Songs);

    /// <summary>What went wrong, or came right again, since the last call.</summary>
    public IEnumerable<string> TakeTroubles() => FileTroubles().Concat(LateTroubles()).Concat(SlotTroubles());

    /// <summary>Ends the reading and closes the stems.</summary>
    public void Close()
    {
        Streamer.Dispose();
        if (Streamer.HasEnded)
        {
            Plan.Sources.Dispose();
        }
    }

    private IEnumerable<string> FileTroubles() => Streamer.TakeFailures().Select(failure => $"{failure.Message}; the stem is silent until it can be read again");

    private IEnumerable<string> LateTroubles()
    {
        string[] late = [.. LateStems];
        foreach (string stem in late.Where(toldStems.Add))
        {
            yield return $"{stem}: does not come from the disk in time; it is faded out and comes back by itself";
        }

        foreach (string stem in toldStems.Except(late).Where(_ => ShouldPlay).ToArray())
        {
            toldStems.Remove(stem);
            yield return $"{stem}: is back";
        }
    }

    private IEnumerable<string> SlotTroubles()
    {
        foreach ((string place, PlannedSlot slot) in Plan.Slots())
        {
            if (SongPlan.Fault(slot) is { } fault && toldSlots.Add(slot))
            {
                yield return $"{place}: {slot.Slot.Id} {fault} and is passed by";
            }
        }
    }
}
