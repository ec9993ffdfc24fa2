using System.Collections.Immutable;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Analysis.Papers;

/// <summary>A correction in plain words.</summary>
/// <param name="Place">Where it is: "Bass", "Drums, parallel Crush", "song bus".</param>
/// <param name="Processor">What it is done with.</param>
/// <param name="Reason">Why, in the engineer's words; empty when not said.</param>
/// <param name="IsBypassed">True when the sound passes by it at present.</param>
/// <param name="Settings">What is set otherwise than usual: "low-pass frequency 700 Hz".</param>
public sealed record Correction(string Place, string Processor, string Reason, bool IsBypassed, IReadOnlyList<string> Settings)
{
    /// <summary>The corrections of a song, stem by stem, then those of its bus.</summary>
    public static IReadOnlyList<Correction> Of(Song song, ProcessorCatalogue catalogue)
    {
        Song bare = song with
        {
            Stems = [.. song.Stems.Select(stem => stem with { Chain = Chain.Empty, Parallels = [] })],
            Bus = Chain.Empty,
        };
        ILookup<string, string> settings = AlbumDifference.Between(AlbumOf(bare), AlbumOf(song), catalogue)
            .Where(change => change.Kind == AlbumChangeKind.Set && change.Steps.Length > 2 && IsSetting(change))
            .ToLookup(change => Key(change.Steps.AsSpan()[1..^1]), change => $"{change.Steps[^1]} {change.After}");
        List<Correction> list = [];
        foreach (Stem stem in song.Stems)
        {
            Add(stem.Name, stem.Chain, [stem.Name]);
            foreach (Parallel parallel in stem.Parallels)
            {
                Add($"{stem.Name}, parallel {parallel.Name}", parallel.Chain, [stem.Name, $"parallel {parallel.Name}"]);
            }
        }

        Add("song bus", song.Bus, ["song bus"]);
        return list;

        void Add(string place, Chain chain, string[] steps)
        {
            foreach (ChainSlot slot in chain.Slots.Where(slot => !slot.Suggested))
            {
                string name = catalogue.Find(slot.Processor)?.Name ?? slot.Processor;
                list.Add(new Correction(place, name, slot.Reason, slot.Bypassed || chain.Bypassed, [.. settings[Key([.. steps, slot.Id])]]));
            }
        }
    }

    // The reason is told apart, and a band whose settings are told is on.
    private static bool IsSetting(AlbumChange change) =>
        change.Steps[^1] != "reason" && !(change.Steps[^1].EndsWith(" on", StringComparison.Ordinal) && change.After == "on");

    private static string Key(ReadOnlySpan<string> steps) => string.Join('\n', steps!);

    private static Album AlbumOf(Song song) => new("album", "artist", DeliveryTargets.Usual, [song], []);
}
