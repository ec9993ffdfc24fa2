using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Albums.Editing;

/// <summary>Stems and their parallels as parts of the tree of addresses.</summary>
internal sealed class StemTree(ProcessorCatalogue catalogue)
{
    private readonly ChainTree chains = new(catalogue);

    public AddressNode Node(Place<Song> song, Place<ImmutableArray<Stem>> stems, int index, string songAddress)
    {
        Place<Stem> place = stems.Item(index);
        Stem stem = place.Value;
        bool nameIsBus = stem.Name.Equals("bus", StringComparison.OrdinalIgnoreCase);
        string address = nameIsBus ? $"{songAddress}/{index + 1}" : $"{songAddress}/{stem.Name}";
        Place<Chain> chain = place.Part(value => value.Chain, (value, changed) => value with { Chain = changed });
        Place<ImmutableArray<Parallel>> parallels = place.Part(value => value.Parallels, (value, list) => value with { Parallels = list });
        return new AddressNode
        {
            Address = address,
            Source = stem,
            Identity = IdentityOf(stem),
            Kept = KeptText.Of(stem.Notes, stem.Unknown, stem.Placement.Unknown, stem.Chain.Unknown),
            MakeFields = () =>
            [
                FieldMaker.Text("name", stem.Name, name => song.Put(StemKeys.Renamed(song.Value, index, name))),
                FieldMaker.Text("file", stem.File, file => place.Put(stem with { File = file, Sha256 = string.Empty })),
                FieldMaker.ReadOnly("sha256", stem.Sha256),
                FieldMaker.Word("role", AlbumWords.Role, stem.Role, role => place.Put(stem with { Role = role })),
                .. PlacementFields(place.Part(value => value.Placement, (value, placement) => value with { Placement = placement })),
                ChainTree.Bypass("chain.bypassed", chain),
            ],
            Groups =
            [
                chains.Slots(chain, song.Value, address),
                new AddressGroup("parallel", "parallel:", [.. stem.Parallels.Select(parallel => parallel.Name)], parallel => Parallel(song, parallels, parallel, address)),
            ],
            Chain = chain,
            Stem = place,
            Notes = place.Part(value => value.Notes, (value, notes) => value with { Notes = notes }),
            Remove = () => song.Put(AlbumEdits.WithoutStem(song.Value, index)),
            Move = to => stems.Moved(index, to),
            Siblings = stems.Value.Length,
        };
    }

    /// <summary>Tells a stem by its sound, or by its file when the digest has not been taken.</summary>
    public static string IdentityOf(Stem stem) => stem.Sha256.Length > 0 ? stem.Sha256 : stem.File;

    private static IEnumerable<AddressField> PlacementFields(Place<Placement> place)
    {
        Placement placement = place.Value;
        return
        [
            FieldMaker.Number(AlbumFields.GainDb, placement.GainDb, value => place.Put(placement with { GainDb = value })),
            FieldMaker.Number(AlbumFields.Pan, placement.Pan, value => place.Put(placement with { Pan = value })),
            FieldMaker.Word("polarity", AlbumWords.Polarity, placement.Polarity, value => place.Put(placement with { Polarity = value })),
            FieldMaker.Number(AlbumFields.DelayFrames, placement.DelayFrames, value => place.Put(placement with { DelayFrames = (int)value })),
            FieldMaker.Switch("muted", placement.Muted, value => place.Put(placement with { Muted = value })),
            FieldMaker.Switch("soloed", placement.Soloed, value => place.Put(placement with { Soloed = value })),
        ];
    }

    private AddressNode Parallel(Place<Song> song, Place<ImmutableArray<Parallel>> parallels, int index, string stemAddress)
    {
        Place<Parallel> place = parallels.Item(index);
        Parallel parallel = place.Value;
        Place<Chain> chain = place.Part(value => value.Chain, (value, changed) => value with { Chain = changed });
        string address = $"{stemAddress}/parallel:{parallel.Name}";
        return new AddressNode
        {
            Address = address,
            Source = parallel,
            Kept = KeptText.Of([], parallel.Unknown, parallel.Chain.Unknown),
            MakeFields = () =>
            [
                FieldMaker.Text("name", parallel.Name, name => place.Put(parallel with { Name = name })),
                FieldMaker.Switch("afterChain", parallel.AfterChain, value => place.Put(parallel with { AfterChain = value })),
                FieldMaker.Number(AlbumFields.BlendDb, parallel.BlendDb, value => place.Put(parallel with { BlendDb = value })),
                FieldMaker.Number(AlbumFields.AlignSamples, parallel.AlignSamples, value => place.Put(parallel with { AlignSamples = value })),
                FieldMaker.Switch("equaliserLinked", parallel.IsEqualiserLinked, isOn => place.Put(parallel with { IsEqualiserLinked = isOn })),
                FieldMaker.Switch("muted", parallel.Muted, value => place.Put(parallel with { Muted = value })),
                ChainTree.Bypass("chain.bypassed", chain),
            ],
            Groups = [chains.Slots(chain, song.Value, address)],
            Chain = chain,
            Remove = () => parallels.Without(index),
            Move = to => parallels.Moved(index, to),
            Siblings = parallels.Value.Length,
        };
    }
}
