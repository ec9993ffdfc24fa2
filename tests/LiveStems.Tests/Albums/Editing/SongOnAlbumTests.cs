using System.Text;
using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.Editing;

public class SongOnAlbumTests
{
    [Theory]
    [InlineData("AA-6Q7-26-00001", "AA6Q72600001")]
    [InlineData("aa6q72600001", "AA6Q72600001")]
    [InlineData("ISRC AA-6Q7-26-00001", "AA6Q72600001")]
    public void ARecordingCodeIsKeptWithoutHyphensAndWrittenWithThem(string written, string kept)
    {
        Album album = Set("Fog.isrc", written);
        Assert.Equal(kept, album.Songs[0].Isrc);
        Assert.Equal("AA-6Q7-26-00001", AlbumAddress.Get(album, "Fog.isrc", PlainProcessors.Catalogue));
    }

    [Theory]
    [InlineData("A1-6Q7-26-00001")]
    [InlineData("AA-6Q7-26-0001")]
    [InlineData("AA-6Q7-2X-00001")]
    [InlineData("AA-6q7-26-000012")]
    public void ACodeOfAnotherFormIsRefused(string written) =>
        Assert.Contains("no recording code", Assert.Throws<AlbumException>(() => Set("Fog.isrc", written)).Message, StringComparison.Ordinal);

    [Fact]
    public void TwoSongsCannotHaveOneCode()
    {
        Album album = Set("Fog.isrc", "AA6Q72600001");
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumAddress.Set(album, "Low.isrc", "AA6Q72600001", PlainProcessors.Catalogue));
        Assert.Contains("there twice", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void HowASongStandsOnTheAlbumSurvivesTheFileAndIsNotWrittenWhenUsual()
    {
        string before = Text(ExampleAlbum.Album);
        Assert.DoesNotContain("edges", before, StringComparison.Ordinal);
        Album album = ExampleAlbum.Album;
        foreach (string assignment in Assignments)
        {
            album = AlbumAddress.Set(album, assignment, PlainProcessors.Catalogue);
        }

        Album read = AlbumFile.Parse(Encoding.UTF8.GetBytes(Text(album)), "album.json", PlainProcessors.Catalogue);
        Assert.Equal(new SongEdges(4, 0.25, 1, 0.5, FadeShape.EqualPower, 6, FadeShape.Decibels, 3), read.Songs[0].Edges);
        Assert.Equal(SongState.Approved, read.Songs[0].State);
        Assert.Equal("AA6Q72600001", read.Songs[0].Isrc);
        Assert.Equal(9, read.Targets.LeastPeakToLoudnessLu);
        Assert.Equal("4 s before it, first 0.25 s cut, 0.5 s fade in (equal-power), last 1 s cut, 6 s fade out (decibels), 3 s cross-fade into the next", EdgeWords.Of(read.Songs[0].Edges));
    }

    [Fact]
    public void ChangesOfStateAndEdgesAreTold()
    {
        Album after = AlbumAddress.Set(AlbumAddress.Set(ExampleAlbum.Album, "Fog.state", "sent", PlainProcessors.Catalogue), "Fog.fadeOutSeconds", "6 s", PlainProcessors.Catalogue);
        string[] said = [.. AlbumDifference.Between(ExampleAlbum.Album, after, PlainProcessors.Catalogue).Select(change => change.Said)];
        Assert.Equal(["state: open → sent", "fade out: 0 → 6 s"], said);
    }

    [Fact]
    public void AClientsNoteHasItsPlaceAndText()
    {
        Album album = AlbumEdits.AddNote(ExampleAlbum.Album, "Fog@61.5=voice = louder", PlainProcessors.Catalogue);
        Assert.Equal(new Note(61.5, "voice = louder"), album.Songs[0].Notes[^1] with { Unknown = UnknownFields.None });
        Assert.Throws<AlbumException>(() => AlbumEdits.AddNote(ExampleAlbum.Album, "Fog@later=louder", PlainProcessors.Catalogue));
    }

    [Fact]
    public void AFadeLongerThanAllowedIsRefused() =>
        Assert.Contains("120", Assert.Throws<AlbumException>(() => Set("Fog.fadeOutSeconds", "500")).Message, StringComparison.Ordinal);

    private static string[] Assignments =>
    [
        "Fog.isrc=AA6Q72600001", "Fog.state=approved", "Fog.gapBeforeSeconds=4 s", "Fog.trimStartSeconds=0.25", "Fog.trimEndSeconds=1", "Fog.fadeInSeconds=0.5",
        "Fog.fadeInShape=equal-power", "Fog.fadeOutSeconds=6 s", "Fog.fadeOutShape=decibels", "Fog.crossFadeSeconds=3", "targets.leastPeakToLoudnessLu=9 LU",
    ];

    private static Album Set(string address, string value) => AlbumAddress.Set(ExampleAlbum.Album, address, value, PlainProcessors.Catalogue);

    private static string Text(Album album) => Encoding.UTF8.GetString(AlbumFile.ToBytes(album, "album.json", PlainProcessors.Catalogue));
}
