using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;

namespace LiveStems.Engine.Live;

/// <summary>A song of the player: its plan, the threads that read its stems, and what has been said about it.</summary>
internal sealed class LoadedSong(SongPlan plan, StemStreamer streamer, SongRequest request)
{
    // A process that hangs is given up after a few seconds at most.
    private static readonly TimeSpan LapsePatience = TimeSpan.FromSeconds(4);

    private SongRequest request = request;
    private string? newTitle;
    private readonly HashSet<PlannedSlot> toldSlots = [];
    private readonly HashSet<string> toldStems = [];
    private readonly (string Place, PlannedSlot Slot)[] slots = [.. plan.Slots()];
    private readonly Dictionary<PlannedSlot, Told> toldProcesses = [];

    public SongPlan Plan { get; } = plan;

    public StemStreamer Streamer { get; } = streamer;

    /// <summary>What was asked for, with the values it has by now.</summary>
    public SongRequest Request
    {
        get => request;
        set
        {
            request = value;
            newTitle = null;
        }
    }

    /// <summary>The slots of processors of others, each with the title that its song has by now.</summary>
    public IEnumerable<(string Song, string Place, PlannedSlot Slot)> OutsideSlots =>
        Plan.OutsideSlots.Select(entry => entry with { Song = entry.Song == Plan.Song.Title ? newTitle ?? Request.Song.Title : entry.Song });

    /// <summary>What processors of others have done in it so far.</summary>
    public IReadOnlyList<OutsideUse> OutsideUses() => Plan.OutsideSlots.Length == 0 ? [] : [.. OutsideSlots.Select(SongPlan.Use)];

    /// <summary>Its song is called otherwise from now on, before it is asked for under that title.</summary>
    public void Rename(IReadOnlyDictionary<string, string> titles) => newTitle = titles.GetValueOrDefault(newTitle ?? Request.Song.Title, newTitle ?? Request.Song.Title);

    /// <summary>True while it plays or is about to.</summary>
    public bool ShouldPlay
    {
        get => Plan.Sources.Head.ShouldPlay;
        set => Plan.Sources.Head.ShouldPlay = value;
    }

    /// <summary>Frames left to the end of the longest stem.</summary>
    public long FramesLeft => Plan.Sources.Frames - Plan.Sources.Head.Position;

    /// <summary>Stems that are silent because the disk does not deliver them.</summary>
    public IReadOnlyList<string> LateStems => !IsAnyLate ? [] :
        [.. Plan.Stems.Where((_, index) => Plan.Sources.Pumps[index].Feed.IsLate).Select(path => path.Stem.Name)];

    /// <summary>Frames of stems that did not come from the disk in time.</summary>
    public long MissedFrames
    {
        get
        {
            long missed = 0;
            for (int i = 0; i < Plan.Sources.Pumps.Count; i++)
            {
                missed += Plan.Sources.Pumps[i].Feed.MissedFrames;
            }

            return missed;
        }
    }

    private bool IsAnyLate
    {
        get
        {
            for (int i = 0; i < Plan.Stems.Count && ShouldPlay; i++)
            {
                if (Plan.Sources.Pumps[i].Feed.IsLate)
                {
                    return true;
                }
            }

            return false;
        }
    }

    /// <summary>True when the open stems are those that the request needs.</summary>
    public bool CanPlay(SongRequest wanted) =>
        Request.Folder == wanted.Folder
        && PlanUpdate.HasSameSources(Plan.Song, wanted.Song)
        && Plan.Sources.HoldBeside(wanted.Songs);

    /// <summary>What went wrong, or came right again, since the last call; asked for many times a second, so that nothing costs nothing.</summary>
    public void TakeTroubles(List<string> told)
    {
        Streamer.TakeFailures(failure => told.Add($"{failure.Message}; the stem is silent until it can be read again"));
        TakeLate(told);
        foreach ((string place, PlannedSlot slot) in slots)
        {
            if (SongPlan.Fault(slot) is { } fault && toldSlots.Add(slot))
            {
                told.Add($"{place}: {slot.Slot.Id} {fault} and is passed by");
            }
        }

        TakeProcesses(told);
    }

    /// <summary>Ends the reading and closes the stems.</summary>
    public void Close()
    {
        Streamer.Dispose();
        if (Streamer.HasEnded)
        {
            Plan.Sources.Dispose();
        }
    }

    private void TakeLate(List<string> told)
    {
        if (toldStems.Count == 0 && !IsAnyLate)
        {
            return;
        }

        string[] late = [.. LateStems];
        foreach (string stem in late.Where(toldStems.Add))
        {
            told.Add($"{stem}: does not come from the disk in time; it is faded out and comes back by itself");
        }

        foreach (string stem in ShouldPlay ? [.. toldStems.Except(late)] : Array.Empty<string>())
        {
            toldStems.Remove(stem);
            told.Add($"{stem}: is back");
        }
    }

    private void TakeProcesses(List<string> told)
    {
        foreach ((_, string place, PlannedSlot slot) in Plan.OutsideSlots)
        {
            if (slot.Step?.Processor is IsolatedProcessor apart)
            {
                TakeProcess(place, slot, apart, told);
            }
        }
    }

    private void TakeProcess(string place, PlannedSlot slot, IsolatedProcessor apart, List<string> told)
    {
        (int times, string? cause, bool isGivenUp, string? obstacle) = apart.Deaths;
        Told so = toldProcesses.GetValueOrDefault(slot) ?? Told.Nothing;
        if (times > so.Deaths)
        {
            toldProcesses[slot] = new Told(times, apart.Lapses + 1, true);
            string next = obstacle is null && isGivenUp ? "it ends again and again and is not started any more" : "it is started anew";
            told.Add($"{place}: the process of {slot.Slot.Id} has ended ({cause}); the sound goes on without it, {next}");
        }
        else if (obstacle is not null && !so.IsOut)
        {
            toldProcesses[slot] = so with { IsOut = true };
            told.Add($"{place}: the process of {slot.Slot.Id} cannot be started anew ({obstacle}); the sound goes on without it");
        }
        else if (so.IsAway && !apart.IsAway)
        {
            toldProcesses[slot] = so with { IsAway = false };
            told.Add($"{place}: {slot.Slot.Id} is back");
        }
        else if (!so.IsAway && apart.Lapses > so.Lapses)
        {
            TakeLapse(place, slot, apart, so, told);
        }
    }

    // The first time, and then when it has become twice as many. A process that dies is late before it is found dead: that is
    // told as what it is. What was late while nothing played, nobody missed.
    private void TakeLapse(string place, PlannedSlot slot, IsolatedProcessor apart, Told so, List<string> told)
    {
        if (!ShouldPlay)
        {
            toldProcesses[slot] = so with { Lapses = apart.Lapses, LateSince = null };
        }
        else if (so.LateSince is not { } since)
        {
            toldProcesses[slot] = so with { LateSince = TimeProvider.System.GetTimestamp() };
        }
        else if (TimeProvider.System.GetElapsedTime(since) > LapsePatience)
        {
            toldProcesses[slot] = so with { Lapses = 2 * apart.Lapses, LateSince = null };
            told.Add($"{place}: {slot.Slot.Id} did not come back in time from its process ({apart.Lapses} times so far); the sound goes on without it until it does");
        }
    }

    private sealed record Told(int Deaths, long Lapses, bool IsAway, long? LateSince = null, bool IsOut = false)
    {
        public static Told Nothing { get; } = new(0, 0, false);
    }
}
