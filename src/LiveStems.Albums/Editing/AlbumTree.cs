using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Albums.Editing;

/// <summary>The album and its songs as a tree of addresses; what is not asked for is not built.</summary>
internal sealed class AlbumTree(ProcessorCatalogue catalogue)
{
    private readonly StemTree stems = new(catalogue);
    private readonly ChainTree chains = new(catalogue);

    public AddressNode Root(Album album)
    {
        Place<Album> place = new(album, changed => changed);
        Place<ImmutableArray<Song>> songs = place.Part(value => value.Songs, (value, list) => value with { Songs = list });
        return new AddressNode
        {
            Address = string.Empty,
            Source = album,
            Kept = KeptText.Of(album.Notes, album.Unknown, album.Targets.Unknown),
            MakeFields = () =>
            [
                FieldMaker.Text("title", album.Title, title => album with { Title = title }),
                FieldMaker.Text("artist", album.Artist, artist => album with { Artist = artist }),
                .. Targets(place.Part(value => value.Targets, (value, targets) => value with { Targets = targets })),
            ],
            Groups = [new AddressGroup("song", string.Empty, [.. album.Songs.Select(song => song.Title)], index => Song(songs, index, album.Targets))],
            Notes = place.Part(value => value.Notes, (value, notes) => value with { Notes = notes }),
        };
    }

    private AddressNode Song(Place<ImmutableArray<Song>> songs, int index, DeliveryTargets albumTargets)
    {
        Place<Song> place = songs.Item(index);
        Song song = place.Value;
        Place<ImmutableArray<Stem>> list = place.Part(value => value.Stems, (value, stems) => value with { Stems = stems });
        Place<ImmutableArray<Marker>> markers = place.Part(value => value.Markers, (value, changed) => value with { Markers = changed });
        bool titleIsField = song.Title.Equals("title", StringComparison.OrdinalIgnoreCase) || song.Title.Equals("artist", StringComparison.OrdinalIgnoreCase);
        string address = titleIsField ? $"{index + 1}" : song.Title;
        return new AddressNode
        {
            Address = address,
            Source = song,
            Identity = string.Join('\n', song.Stems.Select(StemTree.IdentityOf)),
            Kept = KeptText.Of(song.Notes, [song.Unknown, song.Targets?.Unknown, song.Edges.Unknown, .. song.Answers.Select(answer => answer.Unknown).Where(unknown => unknown.Fields.Count > 0)]),
            MakeFields = () => SongFields(place, albumTargets),
            Groups =
            [
                new AddressGroup("song bus", string.Empty, ["bus"], _ => Bus(place, address)) { WholeNameOnly = true },
                new AddressGroup("stem", string.Empty, [.. song.Stems.Select(stem => stem.Name)], stem => stems.Node(place, list, stem, address)),
                new AddressGroup("marker", "marker:", [.. song.Markers.Select(marker => marker.Name)], marker => Marker(markers, marker, address)),
            ],
            Notes = place.Part(value => value.Notes, (value, notes) => value with { Notes = notes }),
            Markers = markers,
            Answers = song.Answers,
            Remove = () => songs.Without(index),
            Move = to => songs.Moved(index, to),
            Siblings = songs.Value.Length,
        };
    }

    private static AddressNode Marker(Place<ImmutableArray<Marker>> markers, int index, string songAddress)
    {
        Place<Marker> place = markers.Item(index);
        Marker marker = place.Value;
        return new AddressNode
        {
            Address = $"{songAddress}/marker:{marker.Name}",
            Source = marker,
            Identity = NumberText.Of(marker.AtSeconds),
            Kept = KeptText.Of([], marker.Unknown),
            MakeFields = () =>
            [
                FieldMaker.Text("name", marker.Name, name => place.Put(marker with { Name = name })),
                FieldMaker.Number(AlbumFields.AtSeconds, marker.AtSeconds, seconds => place.Put(marker with { AtSeconds = seconds })),
            ],
            Remove = () => markers.Without(index),
            Move = to => markers.Moved(index, to),
            Siblings = markers.Value.Length,
        };
    }

    private static List<AddressField> SongFields(Place<Song> place, DeliveryTargets albumTargets)
    {
        Song song = place.Value;
        Place<DeliveryTargets> targets = new(song.Targets ?? albumTargets, changed => place.Put(song with { Targets = changed }));
        return
        [
            FieldMaker.Text("title", song.Title, title => place.Put(song with { Title = title })),
            FieldMaker.OptionalNumber(AlbumFields.SampleRateHz, song.SampleRate, rate => place.Put(song with { SampleRate = (int?)rate })),
            FieldMaker.OptionalText("roughMix", song.RoughMix, file => place.Put(song with { RoughMix = file })),
            new AddressField("targets", song.Targets is null ? "album" : "own", text => place.Put(song with { Targets = Choose(text) })),
            .. Targets(targets).Select(field => song.Targets is null ? field with { Exact = null } : field),
            FieldMaker.Word("state", AlbumWords.State, song.State, state => place.Put(song with { State = state })),
            new AddressField("isrc", song.Isrc.Length == 0 ? FieldMaker.None : Isrc.Written(song.Isrc), text => place.Put(song with { Isrc = Code(text) })),
            .. EdgeFields.Of(place.Part(value => value.Edges, (value, edges) => value with { Edges = edges })),
        ];

        static string Code(string text) => FieldMaker.IsNone(text) || text.Trim().Length == 0 ? string.Empty
            : Isrc.TryParse(text, out string? code) ? code
            : throw new AlbumException(AlbumRules.FaultOfIsrc(text));

        DeliveryTargets? Choose(string text) => text.Trim().ToLowerInvariant() switch
        {
            "album" => null,
            "own" => song.Targets ?? albumTargets,
            _ => throw new AlbumException($"targets is album or own, not '{text}'"),
        };
    }

    private static IEnumerable<AddressField> Targets(Place<DeliveryTargets> place)
    {
        DeliveryTargets targets = place.Value;
        yield return Inside(FieldMaker.OptionalNumber(
            AlbumFields.IntegratedLufs, targets.IntegratedLufs, value => place.Put(targets with { IntegratedLufs = value })));
        yield return Inside(FieldMaker.Number(AlbumFields.CeilingDbtp, targets.CeilingDbtp, value => place.Put(targets with { CeilingDbtp = value })));
        yield return Inside(FieldMaker.OptionalNumber(
            AlbumFields.LeastPeakToLoudnessLu, targets.LeastPeakToLoudnessLu, value => place.Put(targets with { LeastPeakToLoudnessLu = value })));

        static AddressField Inside(AddressField field) => field with
        {
            Name = $"targets.{field.Name}",
            Alias = $"targets.{field.Name}",
            Words = $"target {field.Words}",
            Initial = null,
        };
    }

    private AddressNode Bus(Place<Song> song, string songAddress)
    {
        Place<Chain> chain = song.Part(value => value.Bus, (value, bus) => value with { Bus = bus });
        string address = $"{songAddress}/bus";
        return new AddressNode
        {
            Address = address,
            Source = chain.Value,
            Kept = KeptText.Of([], chain.Value.Unknown),
            MakeFields = () => [ChainTree.Bypass("bypassed", chain)],
            Groups = [chains.Slots(chain, song.Value, address)],
            Chain = chain,
            IsBus = true,
        };
    }
}
