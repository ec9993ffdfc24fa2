using System.Collections.Immutable;
using LiveStems.Albums.Model;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Tests.Albums;

/// <summary>A small album with one of everything.</summary>
internal static class ExampleAlbum
{
    public static Album Album { get; } = new("Harbour Lights", "The Pilot Boats", new DeliveryTargets(-14, -1), [Waltz(), Plain("Low Tide")], [new Note(null, "warm")]);

    public static ImmutableSortedDictionary<string, double> Parameters(params (string Id, double Value)[] pairs) =>
        pairs.ToImmutableSortedDictionary(pair => pair.Id, pair => pair.Value, StringComparer.Ordinal);

    public static ChainSlot Slot(string id, string processor, params (string Id, double Value)[] parameters) =>
        new(id, processor, 1, false, 100, StereoScope.Stereo, null, Parameters(parameters), string.Empty);

    public static Stem Stem(string song, string name, StemRole role) =>
        new(name, $"{song}/{name}.wav", new string('0', 63) + name.Length % 10, role, Placement.AsDelivered, Chain.Empty, [], []);

    public static Song Plain(string title) => new(
        title, null, null, null, [Stem(title, "Bass", StemRole.Bass), Stem(title, "Drums", StemRole.Drums)], Chain.Empty, []);

    private static Song Waltz()
    {
        Stem bass = Stem("Foghorn Waltz", "Bass", StemRole.Bass) with
        {
            Chain = new Chain(false,
            [
                Slot("equaliser", "equaliser", ("band1.on", 1), ("band1.shape", 1), ("band1.gainDb", -2), ("band2.gainDb", 1), ("band10.gainDb", 3)) with { Reason = "boomy" },
                Slot("compressor", "compressor", ("thresholdDb", -24)) with { Version = 2, KeyStem = "Drums" },
            ]),
        };
        Stem drums = Stem("Foghorn Waltz", "Drums", StemRole.Drums) with
        {
            Parallels = [new Parallel("Crush", true, -12, false, new Chain(false, [Slot("compressor", "compressor", ("ratio", 8))]))],
        };
        return new Song(
            "Foghorn Waltz", 48_000, "Foghorn Waltz/rough mix.wav", new DeliveryTargets(-16, -1.5),
            [bass, drums, Stem("Foghorn Waltz", "Lead Vocal", StemRole.LeadVocal)],
            new Chain(false, [Slot("equaliser", "equaliser", ("band1.gainDb", 0.5))]),
            [new Note(12.5, "breath")]);
    }
}
