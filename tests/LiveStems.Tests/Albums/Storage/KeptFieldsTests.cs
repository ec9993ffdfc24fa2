using System.Text;
using System.Text.Json.Nodes;
using LiveStems.Albums;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;
using Xunit;

namespace LiveStems.Tests.Albums.Storage;

public class KeptFieldsTests
{
    [Fact]
    public void UnknownFieldsOfEveryObjectSurvive()
    {
        JsonNode root = JsonNode.Parse(AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue))!;
        int objects = AddTo(root);
        string text = root.ToJsonString();
        string saved = Encoding.UTF8.GetString(SavedAgain(text));

        // An album, 2 songs, 2 targets, 5 stems with placements, 8 chains, 4 processors, a parallel and 2 notes; the names
        // of parameters belong to their processors.
        Assert.Equal(30, objects);
        Assert.Equal(objects, saved.Split("\"newField\": {\"a\":[1,2.50]}").Length - 1);
    }

    [Fact]
    public void ValuesOfUnknownFieldsAreKeptWordForWord()
    {
        const string value = "{ \"long\": 12345678901234567890.1234567890, \"e\":1E+2,\n  \"text\" : \"\\u00fc\" }";
        string text = $"{{\"schema\": 1, \"z\": null, \"later\": {value}}}";
        string saved = Encoding.UTF8.GetString(SavedAgain(text));
        Assert.Contains($"\"later\": {value}", saved, StringComparison.Ordinal);
        Assert.Contains("\"z\": null", saved, StringComparison.Ordinal);
        Assert.Equal(saved, Encoding.UTF8.GetString(SavedAgain(saved)));
    }

    [Fact]
    public void AProcessorThatIsNotInstalledIsKeptWordForWord()
    {
        byte[] saved = AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue);
        ProcessorCatalogue nothing = new([]);
        Album album = AlbumFile.Parse(saved, "album.json", nothing);
        Assert.Contains("\"band1.shape\": \"low-shelf\"", album.Songs[0].Stems[0].Chain.Slots[0].RawParameters, StringComparison.Ordinal);
        Assert.Equal(saved, AlbumFile.ToBytes(album, "album.json", nothing));
        Assert.Equal(Spelt.Out(ExampleAlbum.Album), Spelt.Out(AlbumFile.Parse(saved, "album.json", PlainProcessors.Catalogue)));
    }

    [Fact]
    public void ANewerSchemaIsRefusedAndTheFileUntouched()
    {
        using TemporaryFolder folder = new();
        const string newer = "{\"schema\": 2, \"title\": {\"en\": \"Harbour Lights\"}}";
        File.WriteAllText(folder.At("album.json"), newer);
        AlbumException loading = Assert.Throws<AlbumException>(() => AlbumFile.Load(folder.Path, PlainProcessors.Catalogue));
        AlbumException saving = Assert.Throws<AlbumException>(() => AlbumFile.Save(ExampleAlbum.Album, folder.Path, PlainProcessors.Catalogue));
        Assert.All([loading, saving], fault => Assert.Contains("open it with a LiveStems that reads schema 2", fault.Message, StringComparison.Ordinal));
        Assert.Equal(newer, File.ReadAllText(folder.At("album.json")));
        Assert.Single(Directory.GetFileSystemEntries(folder.Path));
    }

    private static byte[] SavedAgain(string text) => AlbumFile.ToBytes(
        AlbumFile.Parse(Encoding.UTF8.GetBytes(text), "album.json", PlainProcessors.Catalogue), "album.json", PlainProcessors.Catalogue);

    private static int AddTo(JsonNode? node)
    {
        switch (node)
        {
            case JsonArray list:
                return list.Sum(AddTo);
            case JsonObject fields:
                int below = fields.Where(field => field.Key != "parameters").Sum(field => AddTo(field.Value));
                fields["newField"] = JsonNode.Parse("{\"a\":[1,2.50]}");
                return below + 1;
            default:
                return 0;
        }
    }
}
