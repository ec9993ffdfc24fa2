using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using Xunit;

namespace LiveStems.Tests.Albums.History;

public sealed class SongPlacesTests
{
    private static readonly Album Three = ExampleAlbum.Album with { Songs = [.. ExampleAlbum.Album.Songs, ExampleAlbum.Plain("Ebb")] };

    [Fact]
    public void MovedSongsAreFoundByTheirTitles()
    {
        Album moved = Three with { Songs = [Three.Songs[2], Three.Songs[0], Three.Songs[1]] };
        Assert.False(SongPlaces.AreSame(Three, moved));
        Assert.Equal([1, 2, 0], SongPlaces.After(Three, moved));
    }

    [Fact]
    public void RenamedSongsAreFoundByTheirStems()
    {
        Song renamed = Three.Songs[0] with { Title = "Waltz" };
        Assert.Equal([2, 0, 1], SongPlaces.After(Three, Three with { Songs = [Three.Songs[1], Three.Songs[2], renamed] }));
    }

    [Fact]
    public void SongsThatAreGoneHaveNoPlace() => Assert.Equal([0, null, 1], SongPlaces.After(Three, Three with { Songs = Three.Songs.RemoveAt(1) }));

    [Fact]
    public void ASongWithOtherSettingsStandsWhereItStood()
    {
        Album changed = Three with { Songs = Three.Songs.SetItem(1, Three.Songs[1] with { Bus = Chain.Empty with { Bypassed = true } }) };
        Assert.True(SongPlaces.AreSame(Three, changed));
    }

    [Fact]
    public void ARenamedStemIsFoundByItsSound()
    {
        Song song = Three.Songs[0];
        Song renamed = song with { Stems = song.Stems.SetItem(0, song.Stems[0] with { Name = "Low end" }) };
        Assert.Equal("Low end", SongPlaces.StemAfter(song, renamed, "Bass"));
        Assert.Equal("Drums", SongPlaces.StemAfter(song, renamed, "Drums"));
        Assert.Null(SongPlaces.StemAfter(song, song with { Stems = song.Stems.RemoveAt(0) }, "Bass"));
    }
}
