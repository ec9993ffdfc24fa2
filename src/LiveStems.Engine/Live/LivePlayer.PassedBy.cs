using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Engine.Planning;

namespace LiveStems.Engine.Live;

/// <content>Processors that the sound passes by: which, why, and what of that has been told.</content>
public sealed partial class LivePlayer
{
    // What the plan of a song that came last does without, by folder and title: told once, and again when it has come back.
    private readonly Dictionary<(string Folder, string Title), HashSet<string>> toldLacks = [];
    private LoadedSong? toldLast;

    /// <summary>What processors of others have done so far in all that was played; empty when none plays or played.</summary>
    public IReadOnlyList<OutsideUse> Outside => tally.With(playing);

    /// <summary>Songs are called otherwise from now on; what processors of others have done in them is told under the new titles.</summary>
    /// <param name="titles">New titles by the ones before.</param>
    public void Rename(IReadOnlyDictionary<string, string> titles)
    {
        tally.Rename(titles);
        foreach (LoadedSong loaded in new[] { playing, arriving, following }.OfType<LoadedSong>())
        {
            loaded.Rename(titles);
        }
    }

    /// <summary>
    /// Why the plan that plays does without a processor, switched on or not, in words to follow its name; null when it does
    /// not, and when there is no such processor.
    /// </summary>
    public string? PassedBy(TapPlace place)
    {
        if (Find(place) is { } slot)
        {
            return SongPlan.Fault(slot) ?? (slot.Step?.Processor is IsolatedProcessor apart ? Absence(apart) : null);
        }

        IReadOnlyList<LackingProcessor> lacking = playing?.Plan.Lacking ?? [];
        string? chain = lacking.Count == 0 ? null : ChainName(place);
        for (int i = 0; i < lacking.Count; i++)
        {
            if (lacking[i].Slot == place.Slot && lacking[i].Place == chain)
            {
                return lacking[i].Why;
            }
        }

        return null;
    }

    private static string? Absence(IsolatedProcessor apart)
    {
        (int times, string? cause, bool isGivenUp, string? obstacle) = apart.Deaths;
        return !apart.IsAway ? null
            : obstacle is not null ? $"has a process that cannot be started anew ({obstacle})"
            : times == 0 ? null
            : isGivenUp ? $"has a process that ends again and again ({cause})"
            : $"has a process that has ended ({cause}) and is started anew";
    }

    private string? ChainName(TapPlace place) => place.IsBus ? "song bus"
        : StemAt(place) is not { } stem ? null
        : place.Parallel < 0 ? stem.Stem.Name
        : ParallelAt(place) is { } parallel ? $"{stem.Stem.Name}, {parallel.Parallel.Name}" : null;

    // What a plan that has just come does without, as far as it has not been told of this song.
    private void TakeLacks(List<string> told)
    {
        if ((arriving ?? playing) is not { } now || ReferenceEquals(now, toldLast))
        {
            return;
        }

        toldLast = now;
        (string, string) song = (now.Request.Folder, now.Request.Song.Title);
        HashSet<string> lacks = [.. now.Plan.Lacking.Select(each => each.Words)];
        HashSet<string>? before = toldLacks.GetValueOrDefault(song);
        told.AddRange(before is null ? lacks : lacks.Except(before));
        if (lacks.Count > 0 || before is not null)
        {
            toldLacks[song] = lacks;
        }
    }
}
