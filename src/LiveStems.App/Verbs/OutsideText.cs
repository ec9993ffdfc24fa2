using System.Text.Json.Nodes;
using LiveStems.Engine.Planning;

namespace LiveStems.App.Verbs;

/// <summary>What outside processors did, in words and for programs.</summary>
internal static class OutsideText
{
    /// <summary>One line for each that did something wrong.</summary>
    public static IEnumerable<string> Faults(IEnumerable<OutsideUse> uses) => uses
        .Where(use => use.Faults > 0)
        .Select(use => $"{use.Place}: {use.Processor}: {use.FaultWords}");

    /// <summary>For programs.</summary>
    public static JsonObject ToJson(OutsideUse use) => new()
    {
        ["place"] = use.Place,
        ["processor"] = use.Processor,
        ["faults"] = use.Faults,
        ["framesLost"] = use.FramesLost,
        ["lastFault"] = use.LastFault,
        ["ranInItsOwnProcess"] = use.RanApart,
    };
}
