using System.Text;
using System.Text.Json.Nodes;
using LiveStems.Albums;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.Storage;

public class AlbumFaultsTests
{
    [Theory]
    [InlineData("schema", "null", "must be a whole number from 1")]
    [InlineData("schema", "0", "must be a whole number from 1")]
    [InlineData("schema", "\"1\"", "must be a whole number from 1")]
    [InlineData("title", "7", "must be a text \"…\", not 7")]
    [InlineData("targets.integratedLufs", "-3", "−3 lies outside −40 LUFS to −5 LUFS")]
    [InlineData("targets.ceilingDbtp", "0.1", "0.1 lies outside −20 dBTP to 0 dBTP")]
    [InlineData("targets", "[]", "must be an object {…}, not a list […]")]
    [InlineData("songs", "{}", "must be a list […], not an object {…}")]
    [InlineData("songs[1].title", "\"FOGHORN WALTZ\"", "'FOGHORN WALTZ' is there twice")]
    [InlineData("songs[0].title", "\" \"", "must not be empty")]
    [InlineData("songs[0].title", "\"two\\nlines\"", "line end")]
    [InlineData("songs[0].title", "\"half \\ud83c\"", "must be a text")]
    [InlineData("songs[0].sampleRateHz", "44100.5", "must be a whole number")]
    [InlineData("songs[0].sampleRateHz", "1", "lies outside 8 kHz to 384 kHz")]
    [InlineData("songs[0].roughMix", "\"../mix.wav\"", "inside the album's folder")]
    [InlineData("songs[0].stems[2].name", "\"Bass\"", "'Bass' is there twice")]
    [InlineData("songs[0].stems[0].file", "\"/tmp/x.wav\"", "is an absolute path")]
    [InlineData("songs[0].stems[0].file", "\"C:/x.wav\"", "is an absolute path")]
    [InlineData("songs[0].stems[0].file", "\"a/../../x.wav\"", "inside the album's folder")]
    [InlineData("songs[0].stems[0].file", "\"a\\\\x.wav\"", "backslash")]
    [InlineData("songs[0].stems[0].file", "\"a//x.wav\"", "empty step")]
    [InlineData("songs[0].stems[0].file", "\"\"", "is empty")]
    [InlineData("songs[0].stems[0].sha256", "\"ABC\"", "64 lower-case hexadecimal digits")]
    [InlineData("songs[0].stems[0].role", "\"tuba\"", "must be one of other, drums, bass")]
    [InlineData("songs[0].stems[0].placement.gainDb", "25", "25 lies outside −60 dB to 24 dB")]
    [InlineData("songs[0].stems[0].placement.gainDb", "1e999", "must be a number")]
    [InlineData("songs[0].stems[0].placement.pan", "-1.5", "−1.5 lies outside −1 to 1")]
    [InlineData("songs[0].stems[0].placement.polarity", "\"upside-down\"", "left-inverted")]
    [InlineData("songs[0].stems[0].placement.delayFrames", "96001", "lies outside")]
    [InlineData("songs[0].stems[0].placement.muted", "\"yes\"", "must be true or false")]
    [InlineData("songs[0].stems[0].chain.slots[1].id", "\"equaliser\"", "'equaliser' is there twice")]
    [InlineData("songs[0].stems[0].chain.slots[1].id", "\"Comp 1\"", "lower-case letters")]
    [InlineData("songs[0].stems[0].chain.slots[1].version", "3", "use a newer one")]
    [InlineData("songs[0].stems[0].chain.slots[1].version", "0", "from 1")]
    [InlineData("songs[0].stems[0].chain.slots[1].mixPercent", "101", "lies outside 0 % to 100 %")]
    [InlineData("songs[0].stems[0].chain.slots[1].scope", "\"left\"", "must be one of stereo, mid, side")]
    [InlineData("songs[0].stems[0].chain.slots[1].keyStem", "\"Drumms\"", "the song has no stem 'Drumms'; did you mean Drums?")]
    [InlineData("songs[0].stems[0].chain.slots[0].keyStem", "\"Drums\"", "listens to no key")]
    [InlineData("songs[0].stems[0].chain.slots[1].parameters.thresholdDb", "-90", "−90 lies outside −80 dB to 0 dB")]
    [InlineData("songs[0].stems[0].chain.slots[1].parameters.thresholdDb", "\"-9\"", "must be a number, not \"-9\"")]
    [InlineData("songs[0].stems[0].chain.slots[1].parameters.treshold", "0", "did you mean thresholdDb?")]
    [InlineData("songs[0].stems[0].chain.slots[1].parameters.stages", "1.5", "must be a whole number")]
    [InlineData("songs[0].stems[0].chain.slots[1].parameters.keyHighPassOn", "1", "must be true or false")]
    [InlineData("songs[0].stems[0].chain.slots[0].parameters.band1.shape", "\"round\"", "must be one of bell, low-shelf, high-shelf")]
    [InlineData("songs[0].stems[0].chain.slots[0].parameters.band1.shape", "1", "must be one of bell, low-shelf, high-shelf")]
    [InlineData("songs[0].stems[1].parallels[0].blendDb", "13", "lies outside −60 dB to 12 dB")]
    [InlineData("songs[0].notes[0].atSeconds", "-1", "lies outside 0 s to 86400 s")]
    public void AFaultIsNamedByItsPlace(string place, string value, string said)
    {
        AlbumException fault = Assert.Throws<AlbumException>(() => Load(Changed((place, value))));
        AlbumFault only = Assert.Single(fault.Faults);
        Assert.Equal(place, only.Path);
        Assert.Contains(said, only.Message, StringComparison.Ordinal);
        Assert.Equal($"album.json: {place}: {only.Message}", fault.Message);
    }

    [Fact]
    public void EveryFaultIsFoundAtOnceAndTheMessageIsOneLine()
    {
        AlbumException fault = Assert.Throws<AlbumException>(() => Load(Changed(
            ("songs[0].stems[0].role", "\"tuba\""),
            ("songs[0].stems[1].placement.gainDb", "99"),
            ("songs[1].title", "\"\""))));
        Assert.Equal(
            ["songs[0].stems[0].role", "songs[0].stems[1].placement.gainDb", "songs[1].title"],
            fault.Faults.Select(each => each.Path).Order(StringComparer.Ordinal));
        Assert.EndsWith("; and 2 more: 'livestems show ALBUM' lists all", fault.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', fault.Message);
    }

    [Theory]
    [InlineData("name")]
    [InlineData("file")]
    public void AStemNeedsANameAndAFile(string field)
    {
        JsonNode root = JsonNode.Parse(AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue))!;
        root["songs"]![1]!["stems"]![0]!.AsObject().Remove(field);
        AlbumException fault = Assert.Throws<AlbumException>(() => Load(root.ToJsonString()));
        Assert.Equal(new AlbumFault($"songs[1].stems[0].{field}", "is missing"), fault.Faults[0]);
    }

    [Fact]
    public void AFieldThatIsWrittenTwiceIsAFault()
    {
        AlbumException fault = Assert.Throws<AlbumException>(() => Load("{\"schema\": 1, \"title\": \"a\", \"title\": \"b\"}"));
        Assert.Equal(new AlbumFault("title", "is written twice; keep one"), Assert.Single(fault.Faults));
    }

    [Theory]
    [InlineData("{\"schema\": 1,\n  \"title\": \"a\" \"artist\": \"b\"}", "line 2, column 16")]
    [InlineData("{\"schema\": 1,\n  \"title\": \"Ærø\", ]", "line 2, column 19")]
    [InlineData("", "line 1, column 1")]
    [InlineData("{\n\n", "line 3, column 1")]
    [InlineData("{\"schema\": 1, \"title\": \"a\nb\"}", "line 1, column 26")]
    public void WhatIsNoJsonIsNamedByLineAndColumn(string text, string place)
    {
        AlbumException fault = Assert.Throws<AlbumException>(() => Load(text));
        Assert.StartsWith($"album.json: {place}: not JSON: ", fault.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', fault.Message);
    }

    [Fact]
    public void WhatIsNoUtf8IsNamedByLineAndColumn()
    {
        byte[] latin = Encoding.Latin1.GetBytes("{\"schema\": 1,\n \"title\": \"für\"}");
        AlbumException fault = Assert.Throws<AlbumException>(() => AlbumFile.Parse(latin, "album.json", PlainProcessors.Catalogue));
        Assert.StartsWith("album.json: line 2, column 13: the text is not UTF-8", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[]")]
    [InlineData("7")]
    [InlineData("null")]
    public void AnAlbumIsAnObject(string text) =>
        Assert.Contains("must be an object", Assert.Throws<AlbumException>(() => Load(text)).Message, StringComparison.Ordinal);

    [Fact]
    public void AnAlbumMadeByHandNeedsLittle()
    {
        var album = AlbumFile.Parse(
            """
            {"schema": 1, "songs": [{"title": "Low Tide", "stems": [
                {"name": "Bass", "file": "Bass.wav", "chain": {"slots": [{"processor": "compressor", "parameters": {"ratio": 4}}]}}]}]}
            """u8.ToArray(),
            "album.json",
            PlainProcessors.Catalogue);
        var slot = album.Songs[0].Stems[0].Chain.Slots[0];
        Assert.Equal(("compressor", 2, 100.0, 4.0), (slot.Id, slot.Version, slot.MixPercent, slot.Parameters["ratio"]));
    }

    private static string Changed(params (string Place, string Value)[] changes)
    {
        JsonNode root = JsonNode.Parse(AlbumFile.ToBytes(ExampleAlbum.Album, "album.json", PlainProcessors.Catalogue))!;
        Dictionary<string, string> raw = [];
        foreach ((string place, string value) in changes)
        {
            // A mark first, then the text itself: some values are no JSON that a node can hold.
            string mark = $"mark-{raw.Count}-";
            raw.Add($"\"{mark}\"", value);
            JsonPlace.Set(root, place, mark);
        }

        return raw.Aggregate(root.ToJsonString(), (text, pair) => text.Replace(pair.Key, pair.Value, StringComparison.Ordinal));
    }

    private static void Load(string text) => AlbumFile.Parse(Encoding.UTF8.GetBytes(text), "album.json", PlainProcessors.Catalogue);
}
