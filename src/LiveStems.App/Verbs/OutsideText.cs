using System.Text.Json.Nodes;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Planning;

namespace LiveStems.App.Verbs;

/// <summary>What outside processors did, in words and for programs.</summary>
internal static class OutsideText
{
    /// <summary>One line for each that did something wrong, with its song where there are several.</summary>
    public static IEnumerable<string> Faults(IReadOnlyList<OutsideUse> uses)
    {
        // Of one that hung in a plan that was gone when it was noticed, nobody knows the song.
        bool areSeveral = uses.Where(use => use.Song.Length > 0).DistinctBy(use => use.Song).Count() > 1;
        return uses
            .Where(use => use.Faults > 0)
            .Select(use => $"{(areSeveral && use.Song.Length > 0 ? $"{PlainText.Of(use.Song)}, " : string.Empty)}{(use.Place.Length > 0 ? $"{use.Place}: " : string.Empty)}{use.Processor}: {use.FaultWords}");
    }

    /// <summary>For programs.</summary>
    public static JsonObject ToJson(OutsideUse use) => new()
    {
        ["song"] = use.Song,
        ["place"] = use.Place,
        ["processor"] = use.Processor,
        ["faults"] = use.Faults,
        ["framesLost"] = use.FramesLost,
        ["lastFault"] = use.LastFault,
        ["ranInItsOwnProcess"] = use.RanApart,
    };
}
