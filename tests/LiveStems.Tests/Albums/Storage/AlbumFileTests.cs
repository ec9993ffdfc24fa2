using System.Globalization;
using System.Text;
using CsCheck;
using LiveStems.Albums;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.Storage;

public class AlbumFileTests
{
    [Fact]
    public void WhatIsSavedIsLoaded()
    {
        using TemporaryFolder folder = new();
        AlbumGenerators.Albums.Sample(
            album =>
            {
                AlbumFile.Save(album, folder.Path, PlainProcessors.Catalogue);
                Assert.Equal(Spelt.Out(album), Spelt.Out(AlbumFile.Load(folder.Path, PlainProcessors.Catalogue)));
            },
            iter: 300,
            threads: 1);
    }

    [Fact]
    public void SavingWhatWasLoadedGivesTheSameBytes()
    {
        AlbumGenerators.Albums.Sample(
            album =>
            {
                byte[] first = AlbumFile.ToBytes(album, "album.json", PlainProcessors.Catalogue);
                Album loaded = AlbumFile.Parse(first, "album.json", PlainProcessors.Catalogue);
                Assert.Equal(first, AlbumFile.ToBytes(loaded, "album.json", PlainProcessors.Catalogue));
            },
            iter: 300);
    }

    [Fact]
    public void TheFileIsPlainUtf8WithTheSchemaFirst()
    {
        using TemporaryFolder folder = new();
        AlbumFile.Save(ExampleAlbum.Album with { Title = "Nebel über Mole" }, folder.Path, PlainProcessors.Catalogue);
        byte[] bytes = File.ReadAllBytes(folder.At("album.json"));
        string text = Encoding.UTF8.GetString(bytes);
        Assert.StartsWith("{\n  \"schema\": 1,\n  \"title\": \"Nebel über Mole\",\n", text, StringComparison.Ordinal);
        Assert.EndsWith("}\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain('\r', text);
    }

    [Fact]
    public void ChoicesAndSwitchesAreWrittenAsWords()
    {
        string text = Encoding.UTF8.GetString(AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue));
        Assert.Contains("\"band1.shape\": \"low-shelf\"", text, StringComparison.Ordinal);
        Assert.Contains("\"band1.on\": true", text, StringComparison.Ordinal);
        Assert.Contains("\"band1.gainDb\": -2", text, StringComparison.Ordinal);
    }

    [Fact]
    public void ParametersStandInTheOrderOfTheProcessor()
    {
        string text = Encoding.UTF8.GetString(AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue));
        Assert.True(text.IndexOf("band2.gainDb", StringComparison.Ordinal) < text.IndexOf("band10.gainDb", StringComparison.Ordinal));
    }

    [Fact]
    public void NumbersDoNotFollowTheCultureOfTheMachine()
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        CultureInfo comma = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        comma.NumberFormat.NumberDecimalSeparator = ",";
        byte[] expected = AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue);
        try
        {
            CultureInfo.CurrentCulture = comma;
            byte[] written = AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue);
            Assert.Equal(expected, written);
            AlbumFile.Parse(written, "album.json", PlainProcessors.Catalogue);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void AByteOrderMarkIsReadOver()
    {
        byte[] bytes = [.. Encoding.UTF8.Preamble, .. AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue)];
        Assert.Equal("Harbour Lights", AlbumFile.Parse(bytes, "album.json", PlainProcessors.Catalogue).Title);
    }

    [Fact]
    public void AFolderWithoutAnAlbumSaysHowToMakeOne()
    {
        using TemporaryFolder folder = new();
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumFile.Load(folder.Path, PlainProcessors.Catalogue));
        Assert.Contains("livestems import", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void AnAlbumThatBreaksTheRulesIsNotSaved()
    {
        using TemporaryFolder folder = new();
        Album wrong = ExampleAlbum.Album with { Targets = new DeliveryTargets(-14, double.NaN) };
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumFile.Save(wrong, folder.Path, PlainProcessors.Catalogue));
        Assert.Equal("targets.ceilingDbtp", Assert.Single(fault.Faults).Path);
        Assert.Empty(Directory.GetFileSystemEntries(folder.Path));
    }
}
