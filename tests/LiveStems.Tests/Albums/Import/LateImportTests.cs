using LiveStems.Albums.Import;
using LiveStems.Albums.Model;
using Xunit;

namespace LiveStems.Tests.Albums.Import;

public sealed class LateImportTests
{
    private static readonly Album Before = ExampleAlbum.Album;
    private static readonly Stem Keys = ExampleAlbum.Stem("Low Tide", "Keys", StemRole.Keys) with { Sha256 = new string('c', 64) };
    private static readonly Album Extended = With(Before, 1, song => song with { Stems = song.Stems.Add(Keys), RoughMix = "Low Tide/mix.wav" });

    [Fact]
    public void WithNothingDoneMeanwhileItIsTheImport() => Assert.Equal(Spelt.Out(Extended), Spelt.Out(LateImport.Onto(Before, Before, Extended)));

    [Fact]
    public void WithNothingBroughtItIsTheSameAlbum() => Assert.Same(Before, LateImport.Onto(Before, Before, Before));

    [Fact]
    public void WhatWasDoneMeanwhileStays()
    {
        Album present = With(Before, 1, song => song with { Title = "Ebb", Stems = [song.Stems[1], song.Stems[0] with { Name = "Low end", Placement = Placement.AsDelivered with { GainDb = -3 } }] });
        present = present with { Songs = [present.Songs[1], present.Songs[0]], Title = "Other Lights" };
        Album expected = With(present, 0, song => song with { Stems = song.Stems.Add(Keys), RoughMix = "Low Tide/mix.wav" });
        Assert.Equal(Spelt.Out(expected), Spelt.Out(LateImport.Onto(present, Before, Extended)));
    }

    [Fact]
    public void AStemWhoseNameWasGivenAwayMeanwhileGetsANumber()
    {
        Album present = With(Before, 1, song => song with { Stems = song.Stems.SetItem(0, song.Stems[0] with { Name = "keys" }) });
        Assert.Equal(["keys", "Drums", "Keys 2"], LateImport.Onto(present, Before, Extended).Songs[1].Stems.Select(stem => stem.Name));
    }

    [Fact]
    public void ANewDeliveryOfAStemKeepsWhatWasDoneWithItMeanwhile()
    {
        string digest = new('d', 64);
        Album after = With(Before, 1, song => song with { Stems = song.Stems.SetItem(0, song.Stems[0] with { Sha256 = digest }) });
        Album present = With(Before, 1, song => song with { Stems = song.Stems.SetItem(0, song.Stems[0] with { Name = "Low end", Placement = Placement.AsDelivered with { Pan = 0.5 } }) });
        Stem stem = LateImport.Onto(present, Before, after).Songs[1].Stems[0];
        Assert.Equal(("Low end", 0.5, digest), (stem.Name, stem.Placement.Pan, stem.Sha256));
    }

    [Fact]
    public void ASongThatWasTakenOutMeanwhileComesWithNewStemsOnly()
    {
        Album present = Before with { Songs = Before.Songs.RemoveAt(1) };
        Song song = LateImport.Onto(present, Before, Extended).Songs[1];
        Assert.Equal(("Low Tide", "Low Tide/mix.wav"), (song.Title, song.RoughMix));
        Assert.Equal(Keys, Assert.Single(song.Stems));
    }

    [Fact]
    public void TwoImportsThatBeganWithTheSameAlbumMakeOneSong()
    {
        Song first = ExampleAlbum.Plain("Ebb") with { Stems = [ExampleAlbum.Stem("Ebb", "Bass", StemRole.Bass)] };
        Song second = first with { Stems = [ExampleAlbum.Stem("Ebb", "Drums", StemRole.Drums)] };
        Album now = LateImport.Onto(Before, Before, Before with { Songs = Before.Songs.Add(first) });
        now = LateImport.Onto(now, Before, Before with { Songs = Before.Songs.Add(second) });
        Assert.Equal(3, now.Songs.Length);
        Assert.Equal(["Bass", "Drums"], now.Songs[2].Stems.Select(stem => stem.Name));
    }

    private static Album With(Album album, int song, Func<Song, Song> change) => album with { Songs = album.Songs.SetItem(song, change(album.Songs[song])) };
}
