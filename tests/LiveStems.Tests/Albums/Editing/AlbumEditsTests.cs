using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using Xunit;

namespace LiveStems.Tests.Albums.Editing;

public class AlbumEditsTests
{
    [Fact]
    public void AProcessorGoesToTheEndOfTheChainWithAnIdOfItsOwn()
    {
        Album changed = AlbumEdits.AddProcessor(ExampleAlbum.Album, "Fog/Bass", "equaliser", PlainProcessors.Catalogue);
        Assert.Equal(["equaliser", "compressor", "equaliser-2"], Ids(changed));
        Assert.Equal(1, changed.Songs[0].Stems[0].Chain.Slots[2].Version);
    }

    [Fact]
    public void AProcessorGoesToTheAskedPlace()
    {
        Album changed = AlbumEdits.AddProcessor(ExampleAlbum.Album, "Fog/Bass", "compressor", PlainProcessors.Catalogue, position: 1);
        Assert.Equal(["compressor-2", "equaliser", "compressor"], Ids(changed));
    }

    [Theory]
    [InlineData("Fog/bus")]
    [InlineData("Fog/Drums/parallel:Crush")]
    [InlineData("Low/Bass")]
    public void EveryChainTakesProcessors(string address)
    {
        Album changed = AlbumEdits.AddProcessor(ExampleAlbum.Album, address, "compressor", PlainProcessors.Catalogue);
        Assert.Equal("2", AlbumAddress.Get(changed, $"{address}/compressor{(address.EndsWith("Crush", StringComparison.Ordinal) ? "-2" : string.Empty)}.version", PlainProcessors.Catalogue));
    }

    [Fact]
    public void MarkersAreSetMovedRenamedAndTakenAway()
    {
        Album album = AlbumEdits.AddMarker(ExampleAlbum.Album, "Fog/Chorus = 62.5 s", PlainProcessors.Catalogue);
        album = AlbumEdits.AddMarker(album, "1", null, 90, PlainProcessors.Catalogue);
        Assert.Equal([new Marker("Chorus", 62.5), new Marker("Marker 1", 90)], album.Songs[0].Markers);
        album = AlbumAddress.Set(album, "Fog/marker:Chorus.atSeconds", "63", PlainProcessors.Catalogue);
        album = AlbumAddress.Set(album, "Fog/marker:2.name", "Solo", PlainProcessors.Catalogue);
        Assert.Equal("63 s", AlbumAddress.Get(album, "Foghorn Waltz/marker:Chorus.atSeconds", PlainProcessors.Catalogue));
        album = AlbumEdits.Remove(album, "Fog/marker:Chorus", PlainProcessors.Catalogue);
        Assert.Equal([new Marker("Solo", 90)], album.Songs[0].Markers);
    }

    [Fact]
    public void SettingAMarkerIsOneStepThatCanBeTakenBack()
    {
        Album marked = AlbumEdits.AddMarker(ExampleAlbum.Album, "Fog/Chorus=62.5", PlainProcessors.Catalogue);
        EditHistory history = EditHistory.StartingWith(ExampleAlbum.Album).Do(marked, "marker Chorus");
        Assert.Empty(history.Undo().Current.Songs[0].Markers);
        Assert.Equal(marked, history.Undo().Redo().Current);
        Assert.Contains(
            AlbumDifference.Between(ExampleAlbum.Album, marked, PlainProcessors.Catalogue),
            change => change.ToString().Contains("marker Chorus", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("Fog/Chorus", "no '='")]
    [InlineData("Fog=3", "names no marker")]
    [InlineData("Fog/Chorus=-1", "0 s to 86400 s")]
    [InlineData("Fog/Chorus=later", "Chorus")]
    [InlineData("Fog/ =3=4", "Fog")]
    public void BadMarkersAreRefusedInWords(string assignment, string says)
    {
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumEdits.AddMarker(ExampleAlbum.Album, assignment, PlainProcessors.Catalogue));
        Assert.Contains(says, fault.Message);
    }

    [Fact]
    public void ProcessorsMoveAndGo()
    {
        Album moved = AlbumEdits.Move(ExampleAlbum.Album, "Fog/Bass/compressor", 1, PlainProcessors.Catalogue);
        Assert.Equal(["compressor", "equaliser"], Ids(moved));
        Assert.Equal(["equaliser"], Ids(AlbumEdits.Remove(moved, "Fog/Bass/compressor", PlainProcessors.Catalogue)));
        Assert.Equal(["equaliser", "compressor"], Ids(ExampleAlbum.Album));
    }

    [Fact]
    public void SongsMoveAndGo()
    {
        Album moved = AlbumEdits.Move(ExampleAlbum.Album, "Low Tide", 1, PlainProcessors.Catalogue);
        Assert.Equal(["Low Tide", "Foghorn Waltz"], moved.Songs.Select(song => song.Title));
        Assert.Single(AlbumEdits.Remove(moved, "1", PlainProcessors.Catalogue).Songs);
    }

    [Fact]
    public void AParallelStartsFromNothing()
    {
        Album changed = AlbumEdits.AddParallel(ExampleAlbum.Album, "Fog/Bass", "Grit", PlainProcessors.Catalogue);
        Assert.Equal("−60 dB", AlbumAddress.Get(changed, "Fog/Bass/parallel:Grit.blendDb", PlainProcessors.Catalogue));
        Album without = AlbumEdits.Remove(changed, "Fog/Bass/parallel:Grit", PlainProcessors.Catalogue);
        Assert.Empty(without.Songs[0].Stems[0].Parallels);
    }

    [Fact]
    public void NotesGoToTheAlbumASongOrAStem()
    {
        Album changed = AlbumEdits.AddNote(ExampleAlbum.Album, string.Empty, new Note(null, "a"), PlainProcessors.Catalogue);
        changed = AlbumEdits.AddNote(changed, "Fog", new Note(2, "b"), PlainProcessors.Catalogue);
        changed = AlbumEdits.AddNote(changed, "Fog/Bass", new Note(3, "c"), PlainProcessors.Catalogue);
        Assert.Equal("a", changed.Notes[^1].Text);
        Assert.Equal("b", changed.Songs[0].Notes[^1].Text);
        Assert.Equal("c", changed.Songs[0].Stems[0].Notes[^1].Text);
    }

    [Fact]
    public void AStemThatIsAKeyIsNotRemoved()
    {
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumEdits.Remove(ExampleAlbum.Album, "Fog/Drums", PlainProcessors.Catalogue));
        Assert.Contains("key of Bass/compressor", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Fog/Bass", "equalizer", "did you mean equaliser?")]
    [InlineData("Fog", "equaliser", "has no chain")]
    [InlineData("Fog/Bass.gainDb", "equaliser", "ends in a value")]
    public void AWrongAdditionSaysWhy(string address, string processor, string said)
    {
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumEdits.AddProcessor(ExampleAlbum.Album, address, processor, PlainProcessors.Catalogue));
        Assert.Contains(said, fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void APlaceThatIsNotThereIsRefused()
    {
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumEdits.Move(ExampleAlbum.Album, "Fog/Bass/compressor", 3, PlainProcessors.Catalogue));
        Assert.Equal("Foghorn Waltz/Bass/compressor: there is no place 3; places go from 1 to 2", fault.Message);
    }

    private static IEnumerable<string> Ids(Album album) => album.Songs[0].Stems[0].Chain.Slots.Select(slot => slot.Id);
}
