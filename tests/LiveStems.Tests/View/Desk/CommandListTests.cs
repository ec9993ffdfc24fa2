using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class CommandListTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Theory]
    [InlineData("play", "play")]
    [InlineData("mu", "mute")]
    [InlineData("louder", "louder")]
    [InlineData("add comp", "add-compressor")]
    [InlineData("one band", "band")]
    [InlineData("take back", "undo")]
    public void WhatIsTypedIsFound(string typed, string id)
    {
        using AlbumDesk desk = album.Open();
        Assert.Equal(id, desk.Commands.Search(typed)[0].Id);
    }

    [Fact]
    public void EveryCommandHasWordsAndNoKeyDoesTwoThings()
    {
        using AlbumDesk desk = album.Open();
        Assert.All(desk.Commands.All, command => Assert.True(command.Words.Length > 2 && command.Group.Length > 2));
        KeyChord[] keys = [.. desk.Commands.All.SelectMany(command => command.Keys)];
        Assert.Equal(keys.Length, keys.Distinct().Count());
        Assert.Equal(desk.Commands.All.Count, desk.Commands.Search(string.Empty).Count);
        Assert.Empty(desk.Commands.Search("qqq"));
    }

    [Theory]
    [InlineData("Ctrl+Shift+Z")]
    [InlineData("Space")]
    [InlineData("+")]
    [InlineData("Alt+Left")]
    public void AKeyReadsAsItIsWritten(string text) => Assert.Equal(text, KeyChord.Parse(text).ToString());

    [Fact]
    public void KeysDoWhatTheyStandFor()
    {
        using AlbumDesk desk = album.Open();
        desk.Select(desk.Stems[0].Place);
        Assert.True(desk.Commands.Press(KeyChord.Parse("M"), out string? fault));
        Assert.Null(fault);
        Assert.True(desk.Stems[0].IsMuted);
        Assert.True(desk.Commands.Press(KeyChord.Parse("Ctrl+Z"), out _));
        Assert.False(desk.Stems[0].IsMuted);
        Assert.True(desk.Commands.Press(KeyChord.Parse("S"), out _));
        Assert.True(desk.Stems[0].IsSoloed && !desk.Stems[1].IsHeard);
        Assert.False(desk.Commands.Press(KeyChord.Parse("F11"), out _));
    }

    [Fact]
    public void KeysActOnTheParallelThatIsChosen()
    {
        using AlbumDesk desk = album.Open();
        ParallelRow parallel = desk.Stems[1].Parallels[0];
        bool wasTurnedOver = parallel.IsTurnedOver;
        double blend = parallel.Blend.Value;
        parallel.Select();
        foreach (string id in new[] { "mute", "gain-up", "polarity" })
        {
            Assert.Null(desk.Commands.Find(id)!.Run());
        }

        Assert.True(parallel.IsMuted);
        Assert.Equal(blend + 0.5, parallel.Blend.Value, 6);
        Assert.NotEqual(wasTurnedOver, parallel.IsTurnedOver);
        Assert.Null(desk.Commands.Find("gain-down")!.Run());
        Assert.Equal(blend, parallel.Blend.Value, 6);
        Assert.Equal((false, 0, LiveStems.Albums.Model.Polarity.Normal), (desk.Stems[1].IsMuted, desk.Stems[1].Gain.Value, desk.Stems[1].Polarity));
    }

    [Theory]
    [InlineData("mute")]
    [InlineData("solo")]
    [InlineData("solo-alone")]
    [InlineData("polarity")]
    [InlineData("gain-up")]
    [InlineData("gain-down")]
    [InlineData("stem-remove")]
    public void WhatTheSongBusDoesNotHaveIsSaid(string id)
    {
        using AlbumDesk desk = album.Open();
        desk.Select(LiveStems.Engine.Live.TapPlace.Bus);
        LiveStems.Albums.Model.Album before = desk.Album;
        Assert.Contains("song bus", desk.Commands.Find(id)!.Run(), StringComparison.Ordinal);
        Assert.Same(before, desk.Album);
    }

    [Fact]
    public void EveryCommandOfTheDeskRuns()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        desk.Select(desk.Stems[0].Place with { Slot = "compressor" });
        foreach (DeskCommand command in desk.Commands.All.Where(command => command.Id is not ("account" or "target" or "target-all" or "check" or "find" or "masking")))
        {
            string? fault = command.Run();
            Assert.True(fault is null || !fault.Contains('\n', StringComparison.Ordinal), command.Id);
            album.Run(desk, 0.02);
        }
    }
}
