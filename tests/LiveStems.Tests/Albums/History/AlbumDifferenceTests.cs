using System.Collections.Immutable;
using System.Text;
using System.Text.Json.Nodes;
using CsCheck;
using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.History;

public class AlbumDifferenceTests
{
    private static readonly string[] Texts =
    [
        "on", "off", "1", "2", "-6", "8000", "mid", "side", "inverted", "drums", "bass", "bell", "low-shelf", "linear", "Lead Vocal", "own", "album", "another name", "sent", "QZKLP2600001", "12",
    ];

    [Theory]
    [InlineData("Fog/Bass/equaliser.band1.gainDb = -3", "Foghorn Waltz · Bass · equaliser · band 1 gain: −2 dB → −3 dB")]
    [InlineData("Fog/Bass/equaliser.band3.gainDb = 1.5", "Foghorn Waltz · Bass · equaliser · band 3 gain: 0 dB → 1.5 dB")]
    [InlineData("Fog/Bass/equaliser.band1.shape = bell", "Foghorn Waltz · Bass · equaliser · band 1 shape: low-shelf → bell")]
    [InlineData("Fog/Bass/equaliser.reason = muddy", "Foghorn Waltz · Bass · equaliser · reason: boomy → muddy")]
    [InlineData("Fog/Bass/compressor.key = none", "Foghorn Waltz · Bass · compressor · key: Drums → none")]
    [InlineData("Fog/Bass/compressor.thresholdDb = -24.001", "Foghorn Waltz · Bass · compressor · threshold: −24 → −24.001")]
    [InlineData("Fog/Bass.gainDb = -1.5", "Foghorn Waltz · Bass · gain: 0 dB → −1.5 dB")]
    [InlineData("Fog/Bass.role = synth", "Foghorn Waltz · Bass · role: bass → synth")]
    [InlineData("Fog/Bass.chain.bypassed = on", "Foghorn Waltz · Bass · chain bypassed: off → on")]
    [InlineData("Fog/Drums/parallel:Crush.blendDb = -9", "Foghorn Waltz · Drums · parallel Crush · blend: −12 dB → −9 dB")]
    [InlineData("Fog/bus/equaliser.band1.gainDb = 0", "Foghorn Waltz · song bus · equaliser · band 1 gain: 0.5 dB → 0 dB")]
    [InlineData("Fog.title = Low Fog", "Foghorn Waltz · title: Foghorn Waltz → Low Fog")]
    [InlineData("Fog.sampleRateHz = none", "Foghorn Waltz · sample rate: 48 kHz → none")]
    [InlineData("Low.targets.ceilingDbtp = -2", "Low Tide · targets: album → own|Low Tide · target ceiling: −1 dBTP → −2 dBTP")]
    [InlineData("targets.ceilingDbtp = -2", "target ceiling: −1 dBTP → −2 dBTP")]
    [InlineData("artist = ", "artist: The Pilot Boats → empty")]
    public void AChangedValueIsSaidInWords(string assignment, string words) =>
        Assert.Equal(words, Words(ExampleAlbum.Album, AlbumAddress.Set(ExampleAlbum.Album, assignment, PlainProcessors.Catalogue)));

    [Fact]
    public void ARenamedStemIsTheSameStem() => Assert.Equal(
        "Foghorn Waltz · Bass · compressor · key: Drums → Kit|Foghorn Waltz · Drums · name: Drums → Kit",
        Words(ExampleAlbum.Album, AlbumAddress.Set(ExampleAlbum.Album, "Fog/Drums.name = Kit", PlainProcessors.Catalogue)));

    [Fact]
    public void ANewProcessorIsSaidWithWhatItDoes()
    {
        Album after = AlbumEdits.AddProcessor(ExampleAlbum.Album, "Low/Bass", "compressor", PlainProcessors.Catalogue);
        after = AlbumAddress.Set(after, "Low/Bass/compressor.ratio = 4:1", PlainProcessors.Catalogue);
        Assert.Equal("Low Tide · Bass · compressor: added|Low Tide · Bass · compressor · ratio: 2:1 → 4:1", Words(ExampleAlbum.Album, after));
        Assert.Equal("Low Tide · Bass · compressor: removed", Words(after, ExampleAlbum.Album));
    }

    [Fact]
    public void ANewSongIsSaidWithItsCorrectionsOnly()
    {
        Album before = AlbumEdits.Remove(ExampleAlbum.Album, "Fog", PlainProcessors.Catalogue);
        string[] words = Words(before, ExampleAlbum.Album).Split('|');
        Assert.Equal("Foghorn Waltz: added", words[0]);
        Assert.Contains("Foghorn Waltz · Drums · parallel Crush: added", words);
        Assert.Contains("Foghorn Waltz · Bass · equaliser · band 1 gain: 0 dB → −2 dB", words);
        Assert.DoesNotContain("Foghorn Waltz · Bass: added", words);
    }

    [Fact]
    public void AnotherOrderIsSaid() => Assert.Equal(
        "order of songs: Foghorn Waltz, Low Tide → Low Tide, Foghorn Waltz",
        Words(ExampleAlbum.Album, AlbumEdits.Move(ExampleAlbum.Album, "Low", 1, PlainProcessors.Catalogue)));

    [Fact]
    public void NotesAreSaid()
    {
        Album after = AlbumEdits.AddNote(ExampleAlbum.Album, "Fog", new Note(3.5, "click\nhere"), PlainProcessors.Catalogue);
        Assert.Equal("Foghorn Waltz · note added: “click here” at 3.5 s", Words(ExampleAlbum.Album, after));
        Assert.Equal("Foghorn Waltz · note removed: “click here” at 3.5 s", Words(after, ExampleAlbum.Album));
    }

    [Fact]
    public void AnAlbumThatWasSavedAndLoadedDoesNotDiffer() => AlbumGenerators.Albums.Sample(
        album =>
        {
            byte[] bytes = AlbumFile.ToBytes(album, "album.json", PlainProcessors.Catalogue);
            Assert.Empty(Words(album, AlbumFile.Parse(bytes, "album.json", PlainProcessors.Catalogue)));
        },
        iter: 50);

    [Fact]
    public void AParameterAtItsDefaultIsTheSameAsNone()
    {
        Album after = AlbumAddress.Set(ExampleAlbum.Album, "Fog/Bass/equaliser.band5.gainDb = 0", PlainProcessors.Catalogue);
        Assert.NotEqual(Spelt.Out(ExampleAlbum.Album), Spelt.Out(after));
        Assert.Empty(Words(ExampleAlbum.Album, after));
    }

    [Fact]
    public void EveryFieldThatIsKeptMakesADifference()
    {
        byte[] saved = AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue);
        int objects = Objects(JsonNode.Parse(saved)).Length;
        for (int i = 0; i < objects; i++)
        {
            JsonNode root = JsonNode.Parse(saved)!;
            Objects(root)[i]["later"] = 1;
            Album after = AlbumFile.Parse(Encoding.UTF8.GetBytes(root.ToJsonString()), "album.json", PlainProcessors.Catalogue);
            AlbumChange only = Assert.Single(AlbumDifference.Between(ExampleAlbum.Album, after, PlainProcessors.Catalogue));
            Assert.Equal(AlbumChangeKind.Kept, only.Kind);
        }
    }

    [Fact]
    public void EveryValueThatCanBeSetMakesADifference()
    {
        foreach (AddressedValue value in AlbumAddress.List(ExampleAlbum.Album, string.Empty, PlainProcessors.Catalogue).Where(value => value.CanBeSet))
        {
            Album? after = Texts.Select(text => Changed(value, text)).FirstOrDefault(changed => changed is not null);
            Assert.True(after is not null, $"none of the texts is another value for {value.Address}");
            Assert.NotEmpty(Words(ExampleAlbum.Album, after));
        }
    }

    // Null when the text is no value for the address, or the one that is there.
    private static Album? Changed(AddressedValue value, string text)
    {
        try
        {
            Album after = AlbumAddress.Set(ExampleAlbum.Album, value.Address, text, PlainProcessors.Catalogue);
            bool isRenamed = value.Address.EndsWith(".title", StringComparison.Ordinal) || value.Address.EndsWith(".name", StringComparison.Ordinal);
            return isRenamed || AlbumAddress.Get(after, value.Address, PlainProcessors.Catalogue) != value.Text ? after : null;
        }
        catch (AlbumException)
        {
            return null;
        }
    }

    private static string Words(Album before, Album after) =>
        string.Join('|', AlbumDifference.Between(before, after, PlainProcessors.Catalogue));

    private static ImmutableArray<JsonObject> Objects(JsonNode? node) => node switch
    {
        JsonArray list => [.. list.SelectMany(item => Objects(item))],
        JsonObject fields => [fields, .. fields.Where(field => field.Key != "parameters").SelectMany(field => Objects(field.Value))],
        _ => [],
    };
}
