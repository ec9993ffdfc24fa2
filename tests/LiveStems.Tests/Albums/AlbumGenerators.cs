using System.Collections.Immutable;
using CsCheck;
using LiveStems.Albums.Model;
using LiveStems.Processing.Contract;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Tests.Albums;

/// <summary>Random albums that keep the rules, with everything an album can hold.</summary>
internal static class AlbumGenerators
{
    private static readonly ImmutableSortedDictionary<string, double> None =
        ImmutableSortedDictionary.Create<string, double>(StringComparer.Ordinal);

    private static readonly Gen<string> Name = Gen.OneOf(
        Gen.OneOf("Foghorn Waltz", "Mole & Pier", "Nebelhorn – Ærø", "Bass", "Töne 東京", "Lead \"Vocal\"", "a/b.c", "🎺 brass", "naïve café"),
        Gen.Char.AlphaNumeric.Array[1, 12].Select(letters => new string(letters)));

    private static readonly Gen<string> Words = Gen.OneOf(Gen.Const(string.Empty), Name, Gen.Const("line one\nline two\t…"));

    private static readonly Gen<UnknownFields> Unknown = Gen.OneOf(
        Gen.Const(UnknownFields.None),
        Gen.OneOf("1", "1.50e3", "null", "\"ü\\u00e9\"", "[1,  2]", "{\"a\": {\"b\": []}}")
            .Select(json => new UnknownFields(ImmutableSortedDictionary<string, string>.Empty.Add("futureField", json).Add("zweites Feld", "true"))));

    private static readonly Gen<ImmutableArray<Note>> Notes = Gen.Select(
        Gen.OneOf(Gen.Const((double?)null), Gen.Double[0, 600].Select(seconds => (double?)seconds)), Words, Unknown,
        (at, text, unknown) => new Note(at, text) { Unknown = unknown }).Array[0, 2].Select(ImmutableArray.Create);

    private static readonly Gen<Marker> Markers = Gen.Select(
        Name, Gen.Double[0, 600], Unknown, (name, at, unknown) => new Marker(name, at) { Unknown = unknown });

    private static readonly Gen<DeliveryTargets> Targets = Gen.Select(
        Gen.OneOf(Gen.Const((double?)null), Gen.Double[-40, -5].Select(value => (double?)value)), Gen.Double[-20, 0], Unknown,
        (loudness, ceiling, unknown) => new DeliveryTargets(loudness, ceiling) { Unknown = unknown });

    private static readonly Gen<Placement> Placements = Gen.Select(
        Gen.Double[-60, 24], Gen.Double[-1, 1], Gen.Enum<Polarity>(), Gen.Int[-96_000, 96_000], Gen.Bool, Gen.Bool, Unknown,
        (gain, pan, polarity, delay, muted, soloed, unknown) => new Placement(gain, pan, polarity, delay, muted, soloed) { Unknown = unknown });

    private static readonly Gen<ChainSlot> Slots = Gen.Select(
        Gen.OneOf<ProcessorDescription>(PlainProcessors.Equaliser, PlainProcessors.Compressor), Gen.Bool, Gen.Double[0, 100], Gen.Enum<StereoScope>(), Words, Unknown)
        .SelectMany((description, bypassed, mix, scope, reason, unknown) => Parameters(description).Select(parameters =>
            new ChainSlot(description.Id, description.Id, description.Version, bypassed, mix, scope, null, parameters, reason) { Unknown = unknown }));

    private static readonly Gen<ChainSlot> OutsideSlots = Gen.OneOf("{\"a\": 1,   \"b\": [true]}", "[]", "null", "{}")
        .Select(raw => new ChainSlot("tape", "harbour.tape", 7, false, 50, StereoScope.Side, null, None, string.Empty) { RawParameters = raw });

    private static readonly Gen<Chain> Chains = Gen.Select(
        Gen.Bool, Gen.Frequency((5, Slots), (1, OutsideSlots)).Array[0, 3], Unknown,
        (bypassed, slots, unknown) => new Chain(bypassed, Numbered(slots)) { Unknown = unknown });

    private static readonly Gen<Parallel> Parallels = Gen.Select(
        Name, Gen.Bool, Gen.Double[-60, 12], Gen.Bool, Chains, Unknown,
        (name, after, blend, muted, chain, unknown) => new Parallel(name, after, blend, muted, chain) { Unknown = unknown });

    private static readonly Gen<Stem> Stems = Gen.Select(
        Gen.Select(Name, Gen.Enum<StemRole>(), Gen.Bool), Placements, Chains, Parallels.Array[0, 2], Notes, Unknown,
        (delivered, placement, chain, parallels, notes, unknown) => new Stem(
            delivered.Item1, $"songs/{delivered.Item1}.wav", delivered.Item3 ? new string('a', 64) : string.Empty, delivered.Item2,
            placement, chain, Distinct(parallels, parallel => parallel.Name), notes) { Unknown = unknown });

    private static readonly Gen<Song> Songs = Gen.Select(
        Gen.Select(Name, Gen.OneOf<int?>(null, 44_100, 96_000), Gen.OneOf<string?>(null, "mixes/rough mix.wav")),
        Gen.OneOf(Gen.Const((DeliveryTargets?)null), Targets.Select(targets => (DeliveryTargets?)targets)),
        Stems.Array[0, 4], Chains, Gen.Select(Notes, Markers.Array[0, 3]), Unknown,
        (head, targets, stems, bus, written, unknown) => KeyedToFirstStem(new Song(
            head.Item1, head.Item2, head.Item3, targets, Distinct(stems, stem => stem.Name), bus, written.Item1)
            {
                Markers = Distinct(written.Item2, marker => marker.Name),
                Unknown = unknown,
            }));

    public static Gen<Album> Albums { get; } = Gen.Select(
        Words, Words, Targets, Songs.Array[0, 4], Notes, Unknown,
        (title, artist, targets, songs, notes, unknown) => new Album(
            title, artist, targets, Distinct(songs, song => song.Title), notes) { Unknown = unknown });

    private static Gen<ImmutableSortedDictionary<string, double>> Parameters(ProcessorDescription description) =>
        Gen.Select(Gen.Int[0, description.Parameters.Count - 1], Gen.Double[0, 1], (index, travel) => (description.Parameters[index], travel))
            .Array[0, 5].Select(pairs => pairs.Aggregate(None, (map, pair) => map.SetItem(pair.Item1.Id, pair.Item1.FromTravel(pair.travel))));

    private static ImmutableArray<ChainSlot> Numbered(ChainSlot[] slots) =>
        [.. slots.Select((slot, index) => slot with { Id = index == 0 ? slot.Id : $"{slot.Id}-{index + 1}" })];

    private static ImmutableArray<T> Distinct<T>(IEnumerable<T> items, Func<T, string> nameOf) =>
        [.. items.DistinctBy(nameOf, StringComparer.OrdinalIgnoreCase)];

    private static Song KeyedToFirstStem(Song song) => song.Stems.Length == 0 ? song : song with
    {
        Bus = song.Bus with
        {
            Slots = [.. song.Bus.Slots.Select(slot => slot.Processor == "compressor" ? slot with { KeyStem = song.Stems[0].Name } : slot)],
        },
    };
}
