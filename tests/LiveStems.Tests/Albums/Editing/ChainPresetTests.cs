using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Architecture;
using Xunit;

namespace LiveStems.Tests.Albums.Editing;

public class ChainPresetTests
{
    public static TheoryData<string> Presets =>
        [.. Directory.EnumerateFiles(Path.Combine(SourceTree.Root, "presets"), "*.json").Select(path => Path.GetFileName(path)!)];

    [Fact]
    public void ThereAreAtLeastTwentyWithNamesOfTheirOwn()
    {
        string[] names = [.. Presets.Select(row => ChainPreset.Load(PathOf(row.Data)).Name)];
        Assert.True(names.Length >= 20);
        Assert.Equal(names.Length, names.Distinct().Count());
    }

    [Theory]
    [MemberData(nameof(Presets))]
    public void PresetGoesOntoAStemBehindWhatIsThere(string file)
    {
        ChainPreset preset = ChainPreset.Load(PathOf(file));
        Album before = AlbumEdits.AddProcessor(OneStem(), "1/1", preset.Steps[0].Processor, BuiltInProcessors.Catalogue);
        Album after = preset.AddTo(before, "1/1", BuiltInProcessors.Catalogue);
        Chain chain = after.Songs[0].Stems[0].Chain;
        Assert.Equal(1 + preset.Steps.Length, chain.Slots.Length);
        Assert.Equal(before.Songs[0].Stems[0].Chain.Slots[0], chain.Slots[0]);
        foreach ((ChainPreset.Step step, ChainSlot slot) in preset.Steps.Zip(chain.Slots.Skip(1)))
        {
            Assert.Equal(step.Processor, slot.Processor);
            Assert.Equal(step.Settings.Select(setting => setting.Key).Order(), slot.Parameters.Keys.Where(key => step.Settings.Any(setting => setting.Key == key)).Order());
            Assert.Equal(preset.Purpose, slot.Reason);
            Assert.Equal(BuiltInProcessors.Catalogue.Find(step.Processor)!.Version, step.Version);
        }

        Assert.Empty(preset.Remarks(BuiltInProcessors.Catalogue));
    }

    // What follows the limiter can raise peaks above its ceiling; only a preset that brings a limiter of its own goes behind it.
    [Theory]
    [InlineData("bus-air.json", "gain", "equaliser", "limiter")]
    [InlineData("bus-together.json", "gain", "compressor", "limiter")]
    [InlineData("bus-ceiling.json", "gain", "limiter", "limiter")]
    public void OnASongBusThePresetGoesBeforeTheLimiterThatEndsIt(string file, params string[] expected)
    {
        ChainPreset preset = ChainPreset.Load(PathOf(file));
        Album before = new[] { "gain", "limiter" }.Aggregate(OneStem(), (album, processor) => AlbumEdits.AddProcessor(album, "1/bus", processor, BuiltInProcessors.Catalogue));
        Chain chain = preset.AddTo(before, "1/bus", BuiltInProcessors.Catalogue).Songs[0].Bus;
        Assert.Equal(expected, chain.Slots.Select(slot => slot.Processor));
        int at = preset.Steps[^1].Processor == "limiter" ? 2 : 1;
        Assert.Equal(before.Songs[0].Bus.Slots[1], chain.Slots[at == 2 ? 1 : 1 + preset.Steps.Length]);
        foreach ((ChainPreset.Step step, ChainSlot slot) in preset.Steps.Zip(chain.Slots.Skip(at)))
        {
            Assert.Equal(step.Processor, slot.Processor);
            Assert.Equal(preset.Purpose, slot.Reason);
            Assert.All(step.Settings, setting => Assert.Contains(setting.Key, slot.Parameters.Keys));
        }
    }

    [Fact]
    public void OnASongBusAProcessorGoesBeforeTheLimiterUnlessItsPlaceIsAskedFor()
    {
        Album changed = new[] { "limiter", "width" }.Aggregate(OneStem(), (album, processor) => AlbumEdits.AddProcessor(album, "1/bus", processor, BuiltInProcessors.Catalogue));
        changed = AlbumEdits.AddProcessor(changed, "1/bus", "gain", BuiltInProcessors.Catalogue, position: 3);
        Assert.Equal(["width", "limiter", "gain"], changed.Songs[0].Bus.Slots.Select(slot => slot.Processor));
    }

    [Fact]
    public void OnAStemALimiterIsLikeAnyOtherProcessor()
    {
        ChainPreset preset = ChainPreset.Load(PathOf("bus-air.json"));
        Album before = AlbumEdits.AddProcessor(OneStem(), "1/1", "limiter", BuiltInProcessors.Catalogue);
        Assert.Equal(["limiter", "equaliser"], preset.AddTo(before, "1/1", BuiltInProcessors.Catalogue).Songs[0].Stems[0].Chain.Slots.Select(slot => slot.Processor));
    }

    [Theory]
    [InlineData("{\"schema\": 2}", "schema 2")]
    [InlineData("{\"schema\": 1}", "is no preset")]
    [InlineData("[", "is no preset")]
    [InlineData("{\"schema\": 1, \"name\": \"N\", \"role\": \"r\", \"purpose\": \"p\", \"listenFor\": \"l\", \"chain\": [{\"processor\": \"gain\", \"version\": \"2\", \"settings\": {}}]}", "'version' must be a whole number from 1")]
    public void WhatIsNoPresetIsRefusedInOneLine(string text, string expected)
    {
        string path = Path.GetTempFileName();
        File.WriteAllText(path, text);
        AlbumException fault = Assert.Throws<AlbumException>(() => ChainPreset.Load(path));
        File.Delete(path);
        Assert.Contains(expected, fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null, "gainDb", null, null)]
    [InlineData(1, "gainDb", null, null)]
    [InlineData(3, "gainDb", "the preset 'N' was made with version 3 of gain, which is newer than version 1 here; it may sound different: get the newer gain", null)]
    [InlineData(3, "glow", "the preset 'N' was made with version 3 of gain, which is newer than version 1 here; it may sound different: get the newer gain", "the preset 'N' was made with version 3 of gain, and version 1 here does not understand it (")]
    public void VersionThatIsNewerThanTheProcessorIsTold(int? version, string setting, string? remark, string? refusal)
    {
        ChainPreset preset = new("N", "any", "louder", "level", [new ChainPreset.Step("gain", [KeyValuePair.Create(setting, "1 dB")]) { Version = version }]);
        Assert.Equal(remark, preset.Remarks(BuiltInProcessors.Catalogue).SingleOrDefault());
        if (refusal is null)
        {
            preset.AddTo(OneStem(), "1/1", BuiltInProcessors.Catalogue);
        }
        else
        {
            Assert.StartsWith(refusal, Assert.Throws<AlbumException>(() => preset.AddTo(OneStem(), "1/1", BuiltInProcessors.Catalogue)).Message, StringComparison.Ordinal);
        }
    }

    private static string PathOf(string file) => Path.Combine(SourceTree.Root, "presets", file);

    private static Album OneStem() => new(
        "Album",
        "Artist",
        DeliveryTargets.Usual,
        [new Song("Song", null, null, null, [new Stem("Stem", "stem.wav", string.Empty, StemRole.Other, Placement.AsDelivered, Chain.Empty, [], [])], Chain.Empty, [])],
        []);
}
