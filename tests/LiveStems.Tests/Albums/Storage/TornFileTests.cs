using System.Text;
using CsCheck;
using LiveStems.Albums;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.Storage;

public class TornFileTests
{
    private static readonly byte[] Saved = AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue);

    [Fact]
    public void WhenTheNewFileCannotBeWrittenTheOldOneStays()
    {
        using TemporaryFolder folder = new();
        AlbumFile.Save(ExampleAlbum.Album, folder.Path, PlainProcessors.Catalogue);
        Directory.CreateDirectory(folder.At("album.json" + SafeFile.BesideSuffix));
        AlbumException fault = Assert.Throws<AlbumException>(
            () => AlbumFile.Save(ExampleAlbum.Album with { Title = "other" }, folder.Path, PlainProcessors.Catalogue));
        Assert.Contains("untouched", fault.Message, StringComparison.Ordinal);
        Assert.Equal(Saved, File.ReadAllBytes(folder.At("album.json")));
    }

    [Fact]
    public void WhenTheNewFileCannotTakeThePlaceOfTheOldItIsRemoved()
    {
        using TemporaryFolder folder = new();
        Directory.CreateDirectory(folder.At("album.json/in the way"));
        Assert.ThrowsAny<Exception>(() => SafeFile.Replace(folder.At("album.json"), Saved));
        Assert.False(File.Exists(folder.At("album.json" + SafeFile.BesideSuffix)));
        Assert.True(Directory.Exists(folder.At("album.json/in the way")));
    }

    [Fact]
    public void WhatACrashLeftBesideIsWrittenOver()
    {
        using TemporaryFolder folder = new();
        File.WriteAllText(folder.At("album.json" + SafeFile.BesideSuffix), new string('x', 100_000));
        AlbumFile.Save(ExampleAlbum.Album, folder.Path, PlainProcessors.Catalogue);
        Assert.Equal(Saved, File.ReadAllBytes(folder.At("album.json")));
        Assert.Single(Directory.GetFileSystemEntries(folder.Path));
    }

    [Fact]
    public void ALinkToAnAlbumFileStaysALink()
    {
        using TemporaryFolder folder = new();
        Directory.CreateDirectory(folder.At("kept"));
        File.WriteAllText(folder.At("kept/real.json"), "old");
        File.CreateSymbolicLink(folder.At("album.json"), folder.At("kept/real.json"));
        AlbumFile.Save(ExampleAlbum.Album, folder.Path, PlainProcessors.Catalogue);
        Assert.NotNull(File.ResolveLinkTarget(folder.At("album.json"), returnFinalTarget: true));
        Assert.Equal(Saved, File.ReadAllBytes(folder.At("kept/real.json")));
    }

    [Fact]
    public void EveryCutOffFileIsRefusedWithAnAlbumFault()
    {
        Assert.All(Enumerable.Range(0, Saved.Length / 7), step => Refused(Saved.AsMemory(0, step * 7)));

        static void Refused(ReadOnlyMemory<byte> bytes) =>
            Assert.Throws<AlbumException>(() => AlbumFile.Parse(bytes, "album.json", PlainProcessors.Catalogue));
    }

    [Fact]
    public void ADamagedFileLoadsOrIsRefusedOnOneLine()
    {
        Gen.Select(Gen.Int[0, Saved.Length - 1], Gen.Byte, Gen.Int[0, 30]).Array[1, 4].Sample(
            damages =>
            {
                List<byte> bytes = [.. Saved];
                foreach ((int place, byte value, int removed) in damages)
                {
                    int start = Math.Min(place, bytes.Count - 1);
                    bytes.RemoveRange(start, Math.Min(removed, bytes.Count - start - 1));
                    bytes.Insert(start, value);
                }

                LoadsOrIsRefused([.. bytes]);
            },
            iter: 1000);
    }

    [Fact]
    public void AFileWithValuesOfOtherKindsLoadsOrIsRefusedOnOneLine()
    {
        string text = Encoding.UTF8.GetString(Saved);
        string[] lines = text.Split('\n');
        int[] valued = [.. Enumerable.Range(0, lines.Length).Where(i => lines[i].Contains("\": ", StringComparison.Ordinal))];
        Gen<string> others = Gen.OneOf(
            "null", "true", "-1", "1e999", "-0", "0.5", "99999999999", "\"\"", "\"x\\ud800\"", "\"\\u0000\\n\"", "[]", "{}", "[null]", "[[[]]]", "[{}]", "[{\"title\": 1}, 2]",
            "{\"slots\": [{\"processor\": \"compressor\", \"parameters\": {\"\\ud800\": 1, \"a\\nb\": 2}}]}", "{\"\": {\"\": 1}}");
        Gen.Select(Gen.Int[0, valued.Length - 1], others).Array[1, 5].Sample(
            changes =>
            {
                string[] changed = [.. lines];
                foreach ((int index, string value) in changes)
                {
                    string line = lines[valued[index]];
                    if (line.EndsWith('{') || line.EndsWith('['))
                    {
                        continue;
                    }

                    string end = line.EndsWith(',') ? "," : string.Empty;
                    changed[valued[index]] = line[..(line.LastIndexOf("\": ", StringComparison.Ordinal) + 3)] + value + end;
                }

                LoadsOrIsRefused(Encoding.UTF8.GetBytes(string.Join('\n', changed)));
            },
            iter: 1000);
    }

    private static void LoadsOrIsRefused(byte[] bytes)
    {
        try
        {
            Album album = AlbumFile.Parse(bytes, "album.json", PlainProcessors.Catalogue);
            byte[] saved = AlbumFile.ToBytes(album, "album.json", PlainProcessors.Catalogue);
            Assert.Equal(Spelt.Out(album), Spelt.Out(AlbumFile.Parse(saved, "album.json", PlainProcessors.Catalogue)));
        }
        catch (AlbumException fault)
        {
            Assert.DoesNotContain('\n', fault.Message);
            Assert.All(fault.Faults, each => Assert.DoesNotContain('\n', each.ToString()));
        }
    }
}
