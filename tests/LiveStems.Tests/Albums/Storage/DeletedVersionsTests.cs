using LiveStems.Albums;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.Storage;

public sealed class DeletedVersionsTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public DeletedVersionsTests() => AlbumFile.Save(ExampleAlbum.Album, folder.Path, PlainProcessors.Catalogue);

    public void Dispose() => folder.Dispose();

    [Fact]
    public void ADeletedVersionComesBackAsItWas()
    {
        AlbumVersion taken = Save("Sängerin/leise: 2");
        string path = Assert.Single(Directory.GetFiles(folder.At(AlbumVersions.FolderName)));
        byte[] bytes = File.ReadAllBytes(path);
        Delete(taken.Name);
        Assert.Equal(taken.Name, Assert.Single(Deleted).Name);
        Assert.Equal(taken.Name, BringBack("Sänger").Name);
        Assert.Empty(Deleted);
        Assert.Equal(bytes, File.ReadAllBytes(path));
    }

    [Fact]
    public void OfSeveralOfOneNameTheLatestDeletedComesFirstAndAllComeBack()
    {
        AlbumVersion first = Save("One");
        Delete("One");
        AlbumVersion second = Save("One");
        Delete("One");
        Assert.Equal([first.SavedAt, second.SavedAt], Deleted.Select(version => version.SavedAt));
        Assert.Equal(("One", second.SavedAt), Key(BringBack("one")));
        Assert.Equal(("One 2", first.SavedAt), Key(BringBack("one")));
        Assert.Equal(["One 2", "One"], AlbumVersions.List(folder.Path, PlainProcessors.Catalogue).Select(version => version.Name));
        Assert.Empty(Deleted);
    }

    [Fact]
    public void AnOlderOneOfTheSameNameIsBroughtBackByItsTime()
    {
        AlbumVersion first = Save("One");
        Delete("One");
        Save("One");
        Delete("One");
        Assert.Equal(("One", first.SavedAt), Key(DeletedVersions.BringBack("One", folder.Path, PlainProcessors.Catalogue, first.SavedAt)));
    }

    [Fact]
    public void WhatWasNotDeletedIsRefusedInOneLine()
    {
        Assert.Contains("no version of the album was deleted", Assert.Throws<AlbumException>(() => BringBack("One")).Message, StringComparison.Ordinal);
        Save("One");
        Delete("One");
        Assert.Contains("there is no deleted version 'Two'", Assert.Throws<AlbumException>(() => BringBack("Two")).Message, StringComparison.Ordinal);
    }

    private static (string Name, DateTimeOffset SavedAt) Key(AlbumVersion version) => (version.Name, version.SavedAt);

    private IReadOnlyList<AlbumVersion> Deleted => DeletedVersions.List(folder.Path, PlainProcessors.Catalogue);

    private AlbumVersion Save(string name) => AlbumVersions.Save(ExampleAlbum.Album, name, folder.Path, PlainProcessors.Catalogue);

    private void Delete(string name) => AlbumVersions.Delete(name, folder.Path, PlainProcessors.Catalogue);

    private AlbumVersion BringBack(string name) => DeletedVersions.BringBack(name, folder.Path, PlainProcessors.Catalogue);
}
