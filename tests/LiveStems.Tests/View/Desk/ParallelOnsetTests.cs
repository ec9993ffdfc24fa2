using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class ParallelOnsetTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Theory]
    [InlineData("3 dB")]
    [InlineData("3")]
    [InlineData("+0.5dB")]
    public void OnsetsAreTypedWithOrWithoutTheirUnit(string text)
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.Parallels.OnsetOf(desk.Stems[1].Parallels[0]).SetText(text));
        Assert.NotNull(desk.Jobs.Open(ParallelChecks.JobKind));
    }

    [Theory]
    [InlineData("0 dB", "0.01 dB to 24 dB")]
    [InlineData("-1", "0.01 dB to 24 dB")]
    [InlineData("25 dB", "0.01 dB to 24 dB")]
    [InlineData("much", "dB")]
    public void WhatNoBlendCanReachIsRefusedInOneLine(string text, string says)
    {
        using AlbumDesk desk = album.Open();
        string fault = desk.Parallels.OnsetOf(desk.Stems[1].Parallels[0]).SetText(text)!;
        Assert.Contains(says, fault, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', fault);
        Assert.Null(desk.Jobs.Open(ParallelChecks.JobKind));
    }
}
