using System.Collections.Immutable;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Albums.Storage;

public class BuiltInProcessorsOnDiskTests
{
    public static TheoryData<string> Ids => [.. BuiltInProcessors.Catalogue.Descriptions.Select(description => description.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void EveryParameterIsSavedAtBothEndsOfItsRange(string id)
    {
        foreach (Func<ParameterSpec, double> end in new Func<ParameterSpec, double>[] { spec => spec.Minimum, spec => spec.Maximum, spec => spec.Default })
        {
            Album album = WithProcessor(id, end);
            byte[] saved = AlbumFile.ToBytes(album, "album.json", BuiltInProcessors.Catalogue);
            Assert.Equal(Spelt.Out(album), Spelt.Out(AlbumFile.Parse(saved, "album.json", BuiltInProcessors.Catalogue)));
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void EveryParameterHasAnAddressThatTakesItsOwnText(string id)
    {
        Album album = WithProcessor(id, spec => spec.Maximum);
        Album defaults = WithProcessor(id, spec => spec.Default);
        IEnumerable<AddressedValue> texts = AlbumAddress.List(album, $"Low Tide/bus/{id}", BuiltInProcessors.Catalogue).Where(value => value.CanBeSet);
        Album set = texts.Aggregate(defaults, (changed, value) => AlbumAddress.Set(changed, value.Address, value.Text, BuiltInProcessors.Catalogue));
        Assert.Empty(AlbumDifference.Between(album, set, BuiltInProcessors.Catalogue));
    }

    private static Album WithProcessor(string id, Func<ParameterSpec, double> value)
    {
        ProcessorDescription description = BuiltInProcessors.Catalogue.Find(id)!;
        ImmutableSortedDictionary<string, double> parameters = description.Parameters.ToImmutableSortedDictionary(spec => spec.Id, value, StringComparer.Ordinal);
        ChainSlot slot = new(id, id, description.Version, false, 100, StereoScope.Stereo, null, parameters, string.Empty);
        return ExampleAlbum.Album with { Songs = [ExampleAlbum.Plain("Low Tide") with { Bus = new Chain(false, [slot]) }] };
    }
}
