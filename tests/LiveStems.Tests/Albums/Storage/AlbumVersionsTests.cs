using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.Storage;

public sealed class AlbumVersionsTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public AlbumVersionsTests() => AlbumFile.Save(ExampleAlbum.Album, folder.Path, PlainProcessors.Catalogue);

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("first listen")]
    [InlineData("Sängerin/leise: 2 \"dB\"")]
    [InlineData("..")]
    public void AVersionIsFoundAgainByItsName(string name)
    {
        AlbumVersions.Save(ExampleAlbum.Album, name, folder.Path, PlainProcessors.Catalogue);
        AlbumVersion found = AlbumVersions.Find(ExampleAlbum.Album, name, folder.Path, PlainProcessors.Catalogue);
        Assert.Equal(name, found.Name);
        Assert.Equal(Spelt.Out(ExampleAlbum.Album), Spelt.Out(found.Album));
        Assert.Single(Directory.GetFiles(folder.At(AlbumVersions.FolderName)));
    }

    [Theory]
    [InlineData("")]
    [InlineData("now")]
    [InlineData("tab\there")]
    public void ANameThatCannotBeOneIsRefused(string name) =>
        Assert.Throws<AlbumException>(() => AlbumVersions.Save(ExampleAlbum.Album, name, folder.Path, PlainProcessors.Catalogue));

    [Fact]
    public void ATakenNameIsRefused()
    {
        AlbumVersions.Save(ExampleAlbum.Album, "One", folder.Path, PlainProcessors.Catalogue);
        Assert.Throws<AlbumException>(() => AlbumVersions.Save(ExampleAlbum.Album, "one", folder.Path, PlainProcessors.Catalogue));
    }

    [Fact]
    public void AVersionOfAnotherAlbumIsRefused()
    {
        AlbumVersions.Save(ExampleAlbum.Album, "One", folder.Path, PlainProcessors.Catalogue);
        Album other = ExampleAlbum.Album with
        {
            Songs = [ExampleAlbum.Album.Songs[1] with { Stems = [ExampleAlbum.Stem("Elsewhere", "Bass", StemRole.Bass) with { Sha256 = new string('a', 64) }] }],
        };
        string path = Directory.GetFiles(folder.At(AlbumVersions.FolderName))[0];
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumVersions.Find(other, path, folder.Path, PlainProcessors.Catalogue));
        Assert.Contains("another album", fault.Message);
    }

    [Fact]
    public void ADamagedVersionIsNamedInOneLine()
    {
        AlbumVersions.Save(ExampleAlbum.Album, "One", folder.Path, PlainProcessors.Catalogue);
        string path = Directory.GetFiles(folder.At(AlbumVersions.FolderName))[0];
        File.WriteAllText(path, "{\"versionSchema\":1}");
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumVersions.List(folder.Path, PlainProcessors.Catalogue));
        Assert.StartsWith(path, fault.Message);
        Assert.DoesNotContain('\n', fault.Message);
    }

    [Fact]
    public void ADeletedVersionIsGone()
    {
        AlbumVersions.Save(ExampleAlbum.Album, "One", folder.Path, PlainProcessors.Catalogue);
        AlbumVersions.Save(ExampleAlbum.Album, "Two", folder.Path, PlainProcessors.Catalogue);
        AlbumVersions.Delete("One", folder.Path, PlainProcessors.Catalogue);
        Assert.Equal("Two", Assert.Single(AlbumVersions.List(folder.Path, PlainProcessors.Catalogue)).Name);
    }

    [Fact]
    public void AStemThatWasMovedSinceIsFoundByItsDigest()
    {
        string digest = new('b', 64);
        Album version = ExampleAlbum.Album with { Songs = [ExampleAlbum.Plain("Song") with { Stems = [ExampleAlbum.Stem("Song", "Bass", StemRole.Bass) with { Sha256 = digest, File = "old/Bass.wav" }] }] };
        Album present = version with { Songs = [version.Songs[0] with { Stems = [version.Songs[0].Stems[0] with { File = "new/Bass.wav" }] }] };
        Assert.Equal("new/Bass.wav", AlbumVersions.WithPresentFiles(version, present).Songs[0].Stems[0].File);
    }
}
